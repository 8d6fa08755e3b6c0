"""Builds that were brought in, what became of them since, and follow-ups, each entry in one plain sentence."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from benchvoice.session import entries as e
from benchvoice.sheet.words import because, listed, plain

_SHORT = 12
"""Characters of a hash that tell builds apart for people; the log and `verify` have all of it."""


def short(head: str) -> str:
    """The beginning of a hash."""
    return head[:_SHORT]


def brought_briefly(entry: e.BroughtIn) -> str:
    """Which build was brought in, and what was open and owed there: for the first page."""
    return _brought(entry, (("open there", entry.open_items), ("owed there", entry.owed)))


def _brought_in(entry: e.BroughtIn) -> str:
    parts = (
        ("answers", [f"{plain(name)} {answer}" for name, answer in entry.choices]),
        ("marks", [f"{', '.join((mark.read, *mark.place))} {mark.value}" for mark in entry.marks]),
        ("computed", [f"{plain(name)} {value}" for name, value in entry.computed]),
        ("open there", entry.open_items),
        ("owed there", entry.owed),
    )
    return _brought(entry, parts)


def _brought(entry: e.BroughtIn, parts: Iterable[tuple[str, Sequence[str]]]) -> str:
    what = f"{entry.what}: " if entry.what else ""
    machine = f" on {entry.machine}" if entry.machine else ""
    title = f", {entry.title}{machine}, {'closed' if entry.closed else 'not closed'}" if entry.title else ""
    rest = "".join(f"; {name}: {listed(items)}" for name, items in parts if items)
    lines = f", {entry.lines} lines" if entry.lines else ""
    again = f", in place of line {entry.replaces}" if entry.replaces is not None else ""
    return f"Brought in: {what}{entry.build}{title} (head {short(entry.head)}{lines}{again}){rest}"


def _not_brought_in(entry: e.NotBroughtIn) -> str:
    return because(f"Not brought in: {entry.what}", entry.reason)


def _changed(entry: e.BroughtInChanged) -> str:
    what = listed(entry.changes) or "lines were added to its log, and nothing of it is otherwise"
    steps = f"; steps that rest on it: {listed(map(plain, entry.steps))}" if entry.steps else ""
    head = f" (head {short(entry.head)})" if entry.head else ""
    return f"Since it was brought in (line {entry.entry}), {entry.what}: {what}{head}{steps}"


_DECIDED = {
    "stands": "stands as it was brought in",
    "taken as it is now": "taken as it is now",
    "done again": "taken as it is now, and the steps that rest on it done again",
}


def _decision(entry: e.BroughtInDecision) -> str:
    who = f", decided by {entry.name}" if entry.name else ""
    return because(f"{entry.what}, changed (line {entry.entry}): {_DECIDED[entry.decision]}{who}", entry.reason)


def _follow_up(entry: e.FollowUp) -> str:
    return f"Taken up after closing: {entry.what} (line {entry.entry})"


def _owed_done(entry: e.OwedDone) -> str:
    return f"Done, and no longer owed: {entry.what} (line {entry.entry})"


BROUGHT: Mapping[type[e.Entry], Callable[[Any], str]] = MappingProxyType(
    {
        e.BroughtIn: _brought_in,
        e.NotBroughtIn: _not_brought_in,
        e.BroughtInChanged: _changed,
        e.BroughtInDecision: _decision,
        e.FollowUp: _follow_up,
        e.OwedDone: _owed_done,
    }
)
