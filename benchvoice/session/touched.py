"""What was touched, from a person's words: what is new or turned spoils its readings, what was only cleaned does not.

Words are taken clause by clause. A place without a word of its own shares the word of its neighbour ("two and three
turned"); a place that is only named counts as touched, for doubt falls on the harmful side. A part that is new, with no
place named ("the left pack is new"), is in every reading that rests on a step which touches it.
"""

import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from benchvoice.procedure.models import Measure, Places, Procedure
from benchvoice.procedure.places import places_of
from benchvoice.session.entries import Place
from benchvoice.session.hearing import places_named
from benchvoice.session.plan import resting_on
from benchvoice.session.readings import taken
from benchvoice.session.state import State
from benchvoice.speech.places import find_place

NOTHING = (
    "nothing",
    "none",
    "nothing touched",
    "i touched nothing",
    "nothing at all",
    "i didn't touch anything",
    "only looked",
    "i only looked",
    "no",
    "not a thing",
)
_NOTHING_DONE = re.compile(
    r"(?:i |we )?(?:have )?(?:changed|touched|moved|turned|replaced) nothing(?: at all| else)?"
    r"|nothing(?: has been| was| is|'s)?(?: been)? (?:touched|changed|moved|turned|new|different|else|at all)"
    r"|(?:i |we )?(?:did not|didn't|haven't|have not) (?:touch|chang|mov|turn)(?:e|ed)? (?:anything|a thing)"
)
EVERYTHING = ("everything", "all", "all of them", "all of it", "the lot", "the whole lot")

_CHANGED = frozenset(
    {
        *("new", "turned", "changed", "swapped", "replaced", "exchanged", "other", "another", "different", "moved"),
        *("filed", "scraped", "stoned", "polished", "lapped", "flipped", "reversed", "dropped", "scored", "bent"),
    }
)
CLEANED = frozenset({"cleaned", "clean", "wiped", "dusted", "washed"})
_DENIES = frozenset({"not", "never", "didn't", "haven't", "wasn't", "isn't"})
"""Before what would have changed a part: it did not."""
_LEFT = CLEANED | {"untouched", "alone", "looked"}
_ANY_ONE = re.compile(r"\b(new|old|other|another|different|that|this|same|good) ones?\b")
"""Words in which "one" is no place."""
_CLAUSES = re.compile(r",|;| and | but | then | (?=the rest\b|the others\b)")


@dataclass(frozen=True, slots=True)
class Touched:
    """For each reading step, the places to be read again and those whose readings stand."""

    spoilt: dict[str, tuple[Place, ...]]
    kept: dict[str, tuple[Place, ...]]
    understood: bool
    """Whether the words say anything: a place, or that nothing was changed."""


def understand_touched(state: State, steps: Sequence[str], text: str) -> Touched:
    """What the words say of the places that were read in these steps."""
    spoilt: dict[str, tuple[Place, ...]] = {}
    kept: dict[str, tuple[Place, ...]] = {}
    words = _sorts(_ANY_ONE.sub(r"\1", text.replace("'s ", " ")))
    for name in steps:
        changed, stays = _of_step(state, name, words)
        if changed:
            spoilt[name] = changed
        if stays:
            kept[name] = stays
    only_left = all(sort == "kept" for _, sort in words) and bool(_LEFT & set(text.split()))
    return Touched(spoilt, kept, bool(spoilt or kept) or says_nothing(text) or only_left)


def says_nothing(text: str) -> bool:
    """Whether the whole answer is that nothing was touched."""
    return text in NOTHING or _NOTHING_DONE.fullmatch(text) is not None


def _sorts(text: str) -> tuple[tuple[str, str], ...]:
    """Each clause and what it says was done: "changed", "kept", the word of a neighbour, or it is only "named"."""
    clauses = [clause.strip() for clause in _CLAUSES.split(text) if clause.strip()]
    own = [_sort(clause) for clause in clauses]
    found = []
    for at, clause in enumerate(clauses):
        after = next((sort for sort in own[at:] if sort), "")
        before = next((sort for sort in reversed(own[:at]) if sort), "")
        found.append((clause, after or before or "named"))
    return tuple(found)


def _sort(clause: str) -> str:
    """What a clause says itself. One that has words of both sorts says "changed" of all that it names."""
    words = clause.split()
    changed = next((at for at, word in enumerate(words) if word in _CHANGED), None)
    if changed is not None and not _DENIES & set(words[:changed]):
        return "changed"
    return "kept" if (_LEFT | _DENIES) & set(words) else ""


def _of_step(
    state: State, name: str, words: tuple[tuple[str, str], ...]
) -> tuple[tuple[Place, ...], tuple[Place, ...]]:
    measure = state.step(name).measure
    if measure is None:
        return (), ()
    read = {row.entry.place for row in taken(state.facts, name)}
    meant = [_places_in(clause, measure, read) for clause, _ in words]
    if not any(meant):
        parts = _parts_under(state.procedure, name)
        meant = [places_of(measure) if sort == "changed" and _has_part(clause, parts) else () for clause, sort in words]
    named: dict[Place, str] = {}
    for places, (_, sort) in zip(meant, words, strict=True):
        for place in places:
            if place in read and named.get(place, "kept") == "kept":
                named[place] = sort
    order = [place for place in places_of(measure) if place in named]
    return (
        tuple(place for place in order if named[place] != "kept"),
        tuple(place for place in order if named[place] == "kept"),
    )


def _places_in(clause: str, measure: Measure, read: Collection[Place]) -> tuple[Place, ...]:
    """The places that a clause names, in full or in part; every one where it speaks of all."""
    if {"everything", "all", "lot"} & set(clause.split()):
        return places_of(measure)
    return places_named(clause, measure.places) or _in_part(clause, measure.places, read)


def names_a_place(state: State, steps: Sequence[str], text: str) -> bool:
    """Whether the words name a place of one of these steps, read or not."""
    measures = (state.step(name).measure for name in steps)
    return any(bool(places_named(text, measure.places)) for measure in measures if measure is not None)


def parts_touched(procedure: Procedure, steps: Sequence[str]) -> tuple[str, ...]:
    """The parts that the readings of these steps rest on, by name, for the ear."""
    return tuple(dict.fromkeys(part for name in steps for part in _parts_under(procedure, name)))


def _parts_under(procedure: Procedure, name: str) -> tuple[str, ...]:
    """Parts that a reading rests on: what it touches, and what the steps before it that it rests on touch."""
    return tuple(part for step in procedure.steps if name in resting_on(procedure, step.step) for part in step.touches)


def _has_part(clause: str, parts: Collection[str]) -> bool:
    """Whether the words name one of the parts, as one or as several."""
    said = f" {clause} "
    return any(f" {name} " in said for part in parts for name in {part, part.removesuffix("s"), f"{part}s"})


def _in_part(clause: str, axes: Places, read: Collection[Place]) -> tuple[Place, ...]:
    """Every place that was read and that the words name in part: "bore two" is both its sides."""
    words = clause.split()
    pieces = [" ".join(words[start:end]) for start in range(len(words)) for end in range(start + 1, len(words) + 1)]
    return tuple(place for place in read if any(find_place(piece, axes, place).place == place for piece in pieces))
