"""The cross-checks of a document: what is wrong with it as a whole, and what is legal in it and unwise."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from benchvoice.procedure.faults import Fault
from benchvoice.procedure.models import Procedure
from benchvoice.procedure.rules import (
    bans,
    brought,
    choices,
    computed,
    counts,
    decisions,
    fasteners,
    follow_ups,
    names,
    readings,
    stages,
    warmth,
    ways,
    windows,
    wording,
)
from benchvoice.procedure.rules.book import Book, Finding
from benchvoice.procedure.source import Source
from benchvoice.procedure.words import spoken_choices, spoken_words

Hearable = Callable[[Iterable[str]], list[str]]
"""Of these words, those that the ear lacks."""
Confused = Callable[[Sequence[str]], Iterable[tuple[str, str]]]
"""Of these answers, pairs that sound nearly the same, to one another or to something else that may be said then."""

_EACH_PART = (
    names.findings,
    ways.findings,
    fasteners.findings,
    stages.findings,
    readings.findings,
    computed.findings,
    choices.findings,
    decisions.findings,
    bans.findings,
    windows.findings,
    warmth.findings,
    brought.findings,
    follow_ups.findings,
    wording.findings,
)
"""What can be said of each part by itself, even where other parts of the document are broken."""
_THE_WHOLE = (
    ways.whole,
    fasteners.whole,
    stages.whole,
    bans.whole,
    windows.whole,
    counts.whole,
    names.unused,
    wording.advice,
)
"""What can only be said of a whole document."""


@dataclass(frozen=True, slots=True)
class Checked:
    """What the checks found, each in the order of the file: faults, and advice, which stops nothing."""

    faults: tuple[Fault, ...]
    advice: tuple[Fault, ...]


def check(
    procedure: Procedure, source: Source, hearable: Hearable | None = None, confused: Confused | None = None
) -> Checked:
    """Look at a whole document; with `hearable`, also at words that people must say and the ear lacks; with
    `confused`, also at answers that sound alike."""
    book = Book(procedure)
    found = [finding for rule in (*_EACH_PART, *_THE_WHOLE) for finding in rule(book)]
    if hearable is not None:
        found.extend(_unheard(procedure, hearable))
    if confused is not None:
        found.extend(_alike(procedure, confused))
    return _checked(found, source)


def check_parts(procedure: Procedure, source: Source, unsure: frozenset[str]) -> Checked:
    """Look at the sound parts of a document whose other parts, named in `unsure`, are broken."""
    book = Book(procedure, unsure)
    return _checked((finding for rule in _EACH_PART for finding in rule(book)), source)


def _unheard(procedure: Procedure, hearable: Hearable) -> Iterator[Finding]:
    own = {word.lower() for word in procedure.words}
    words = {word: path for word, path in spoken_words(procedure).items() if word not in own}
    for word in hearable(words):
        yield Finding(words[word], f"the ear has no word {word}", "use another, or say under words how it sounds", True)


def _alike(procedure: Procedure, confused: Confused) -> Iterator[Finding]:
    for path, answers in spoken_choices(procedure):
        for one, other in confused(answers):
            yield Finding(
                path, f"{one} and {other} sound nearly the same", "use words that differ in more than a sound", True
            )


def _checked(findings: Iterable[Finding], source: Source) -> Checked:
    told = dict.fromkeys(findings)
    faults = {source.fault(each.path, each.what, each.remedy) for each in told if not each.is_advice}
    advice = {source.fault(each.path, each.what, each.remedy) for each in told if each.is_advice}
    return Checked(tuple(sorted(faults)), tuple(sorted(advice)))
