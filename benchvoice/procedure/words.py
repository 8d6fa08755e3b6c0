"""Every word that a person must be able to say in a procedure: what the ear must have before the bench."""

import re
from collections.abc import Iterable, Iterator

from benchvoice.procedure.limits import WayOut
from benchvoice.procedure.models import Procedure, Step
from benchvoice.procedure.rules.book import Book, graded_of, parts_of, ways_out_of
from benchvoice.procedure.source import Path

_FIGURES = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]
_TOKEN = re.compile(r"\d|[^\W\d_]+(?:'[^\W\d_]+)?")
_SIDE_MARK = re.compile(r"^\d+([LR])$")
_SIDES = {"L": "left", "R": "right"}


def spoken_words(procedure: Procedure) -> dict[str, Path]:
    """Each word that is said in answers, places, positions and counts, and where it first comes."""
    found: dict[str, Path] = {}
    for path, phrase in spoken_phrases(procedure):
        for word in words_of(phrase):
            found.setdefault(word, path)
    return found


def written_words(procedure: Procedure) -> frozenset[str]:
    """Every word of the document: what a person's own remarks on the work are mostly made of."""
    return frozenset(word for text in _texts(procedure.model_dump(mode="json")) for word in words_of(text))


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for each in value.values():
            yield from _texts(each)
    elif isinstance(value, list):
        for each in value:
            yield from _texts(each)


def spoken_choices(procedure: Procedure) -> Iterator[tuple[Path, tuple[str, ...]]]:
    """The answers between which a person chooses at one moment, as they are said, and where they are written."""
    for name, particular in procedure.particulars.items():
        yield ("particulars", name, "choices"), _as_said(particular.choices)
    for _, path, step in Book(procedure).steps:
        for where, graded in graded_of(path, step):
            yield where, _as_said((*graded.passes, *graded.further, *graded.fails))
        for where, way in ways_out_of(path, step):
            yield (*where, "back_to"), _as_said(_causes(way))
        for kind in ("measure", "check", "mark", "look"):
            part = getattr(step, kind)
            for axis, values in (part.places if part is not None else {}).items():
                yield (*path, kind, "places", axis), _as_said(values)
        if step.mark is not None and step.mark.words:
            yield (*path, "mark", "words"), _as_said(step.mark.words)
        if step.choose is not None and step.choose.bands:
            yield (*path, "choose", "bands"), _as_said(step.choose.bands)


def _as_said(phrases: Iterable[str]) -> tuple[str, ...]:
    return tuple(" ".join(words_of(phrase)) for phrase in phrases)


def words_of(phrase: str) -> tuple[str, ...]:
    """A phrase as the words that are said: figures by name, single letters as themselves, 1L as one left."""
    side = _SIDE_MARK.match(phrase)
    text = phrase if side is None else f"{phrase[:-1]} {_SIDES[side[1]]}"
    return tuple(_FIGURES[int(token)] if token.isdigit() else token.lower() for token in _TOKEN.findall(text))


def spoken_phrases(procedure: Procedure) -> Iterator[tuple[Path, str]]:
    """Every phrase that a person may answer with, and where it is written."""
    for name, particular in procedure.particulars.items():
        yield from (((("particulars", name, "choices")), choice) for choice in particular.choices)
    for name, group in procedure.groups.items():
        yield from (((("groups", name, "positions")), position) for position in group.positions)
    for _, path, step in Book(procedure).steps:
        yield from _step(path, step)


def _step(path: Path, step: Step) -> Iterator[tuple[Path, str]]:
    for where, graded in graded_of(path, step):
        yield from ((where, answer) for answer in (*graded.passes, *graded.further, *graded.fails))
    for where, way in ways_out_of(path, step):
        yield from ((where, cause) for cause in _causes(way))
    yield from _places(path, step)
    if step.mark is not None:
        yield from (((*path, "mark", "words"), word) for word in step.mark.words)
    if step.wait is not None and step.wait.starts_at is not None:
        yield (*path, "wait", "starts_at"), step.wait.starts_at
    if step.brings_in is not None:
        yield (*path, "brings_in", "what"), step.brings_in.what
    if step.ban is not None:
        yield from (((*path, "ban", "broken_by"), phrase) for phrase in step.ban.broken_by)
    if step.choose is not None:
        yield from (((*path, "choose", "bands"), answer) for answer in step.choose.bands)
    counts = {"laid_out": step.count.laid_out, "in": step.count.put_in, "out": step.count.taken_out}
    for field, things in {**counts, "left_in": step.count.left_in}.items():
        yield from (((*path, "count", field, thing), thing) for thing in things)
    for where, part in parts_of(path, step):
        yield from (((*where, "positions"), position) for position in part.positions)


def _places(path: Path, step: Step) -> Iterator[tuple[Path, str]]:
    """Places, and the names of axes whose values say little alone: main two."""
    for kind in ("measure", "check", "mark", "look"):
        part = getattr(step, kind)
        for axis, values in (part.places if part is not None else {}).items():
            yield (*path, kind, "places", axis), axis.replace("_", " ")
            yield from (((*path, kind, "places", axis), value) for value in values)


def _causes(way: WayOut) -> tuple[str, ...]:
    return tuple(way.back_to) if isinstance(way.back_to, dict) else ()
