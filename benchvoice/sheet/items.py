"""Rows of the log as items of the page: with their moment, person, sound, and why they don't count any more."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from benchvoice.procedure.models import Procedure
from benchvoice.session.entries import (
    Corrected,
    Decision,
    Entry,
    Finding,
    Heard,
    NoLongerCounts,
    Reading,
    Remeasured,
    Remembered,
    Retracted,
    Unclear,
    Verdict,
)
from benchvoice.session.facts import Facts, Row
from benchvoice.session.plan import title_of
from benchvoice.session.state import State
from benchvoice.sheet.describe import describe
from benchvoice.sheet.model import Item
from benchvoice.sheet.words import because, clock, plain, sentence


@dataclass(frozen=True, slots=True)
class Book:
    """What every part of the page is gathered from: state, reasons of what is void, titles of the steps."""

    state: State
    reasons: Mapping[int, str]
    titles: Mapping[str, str]
    verdicts: Mapping[int, tuple[Row[Verdict], ...]]
    """Every verdict on a reading, oldest first, by the reading's line."""
    decisions: Mapping[int, tuple[Row[Decision], ...]]

    @property
    def facts(self) -> Facts:
        return self.state.facts

    def title(self, step: str | None) -> str:
        """What a step is called; one that an amendment has removed is called by its name."""
        return "" if step is None else self.titles.get(step, plain(step))

    def group(self, name: str) -> str:
        """What a group of fasteners is called; one that an amendment has removed is called by its name."""
        found = self.state.procedure.groups.get(name)
        return plain(name) if found is None else found.what

    def void(self, n: int) -> str:
        """Why a line doesn't count any more; empty when it counts."""
        return self.reasons.get(n, "") if n in self.facts.void else ""

    def item(self, row: Row[Entry], text: str | None = None) -> Item:
        """A row as an item."""
        words = describe(row.entry) if text is None else text
        if not isinstance(row.entry, Heard | Unclear):  # what was heard stands as it was heard
            words = sentence(words)
        return Item(row.n, clock(row.now.at), row.by or "", words, self.void(row.n), clip_of(row.entry))

    def item_at(self, row: Row[Entry], step: str | None) -> Item:
        """A row as an item that names its step, for lists that are not a step's own."""
        at = f" (at {self.title(step)})" if step else ""
        return self.item(row, f"{describe(row.entry)}{at}")

    def items(self, rows: Iterable[Row[Entry]]) -> tuple[Item, ...]:
        return tuple(self.item(row) for row in rows)


def book(procedure: Procedure, facts: Facts) -> Book:
    """The book of a build."""
    titles = {step.step: title_of(step) for step in procedure.steps}
    verdicts: dict[int, tuple[Row[Verdict], ...]] = {}
    for row in facts.all(Verdict):
        verdicts[row.entry.reading] = (*verdicts.get(row.entry.reading, ()), row)
    decisions: dict[int, tuple[Row[Decision], ...]] = {}
    for made in facts.all(Decision):
        decisions[made.entry.reading] = (*decisions.get(made.entry.reading, ()), made)
    return Book(State(procedure, facts), void_reasons(facts), titles, verdicts, decisions)


def clip_of(entry: Entry) -> str | None:
    """The file of an entry's sound, when it has one."""
    match entry:
        case Heard() | Unclear():
            return entry.sound.clip if entry.sound is not None else None
        case Reading() | Remembered() | Finding():
            return entry.clip
        case _:
            return None


def void_reasons(facts: Facts) -> dict[int, str]:
    """Why each line that was ever made void was, by its number; the first word on it stays."""
    reasons: dict[int, str] = {}
    for n, targets in facts.voiders:
        if n in facts.void:
            continue  # it was itself taken back, so that it makes nothing void
        why = _why(facts, n)
        for target in targets:
            reasons.setdefault(target, why)
    return reasons


def _why(facts: Facts, n: int) -> str:
    for model in (NoLongerCounts, Retracted, Corrected, Remeasured):
        for row in facts.all(model):
            if row.n == n:
                return f"{_words(row.entry)} (line {n})"
    return f"line {n}"


def _words(entry: Entry) -> str:
    match entry:
        case Corrected():
            return f"corrected: misheard or misspoken, now {entry.now}"
        case Remeasured():
            return because("measured again", entry.reason)
        case Retracted():
            return "taken back"
        case NoLongerCounts():
            return because("doesn't count any more", entry.reason)
        case _:
            return ""
