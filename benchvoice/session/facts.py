"""The facts of a build: its log entries, and nothing else.

Facts are a fold over entries: every question about a build (which step, which readings stand, what is loose) is a pure
function over them, so that a state rebuilt from the log is the state that was. Rows are kept by kind, so that such a
question looks at the few rows it is about.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from decimal import Decimal
from functools import cache
from types import MappingProxyType
from typing import Generic, TypeVar, cast

from benchvoice.session.entries import (
    ENTRY_MODELS,
    Corrected,
    Entry,
    NoLongerCounts,
    Person,
    Remeasured,
    Retracted,
)

E = TypeVar("E", bound=Entry, covariant=True)
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Instant:
    """A moment by every clock there is: wall time (UTC), seconds since this process began, and which process."""

    at: datetime
    elapsed: Decimal
    boot: str


@dataclass(frozen=True, slots=True)
class Row(Generic[E]):
    """An entry with its line number, its moment and the person who was on."""

    n: int
    now: Instant
    by: str | None
    entry: E


@dataclass(frozen=True, slots=True)
class Boot:
    """One process's stretch of the log: its first and last moments, by its own clock and the wall's."""

    boot: str
    first: Instant
    last: Instant


@dataclass(frozen=True, slots=True)
class Facts:
    """Everything written so far. `void` holds the line numbers that don't count any more."""

    count: int = 0
    person: str | None = None
    kinds: Mapping[str, tuple[Row[Entry], ...]] = field(default_factory=lambda: MappingProxyType({}))
    void: frozenset[int] = frozenset()
    voiders: tuple[tuple[int, tuple[int, ...]], ...] = ()
    """Lines that made others void, and which: taking one of them back restores what it had made void."""
    boots: tuple[Boot, ...] = ()
    memo: dict[object, object] = field(default_factory=dict, compare=False, repr=False)
    """What was worked out of these facts already; every new entry begins with an empty one."""

    def worked_out(self, work: Callable[["Facts"], T]) -> T:
        """The answer of a pure function over these facts, worked out once."""
        found = self.memo.get(work)
        if found is None:
            found = self.memo[work] = work(self)
        return cast(T, found)

    def add(self, entry: Entry, now: Instant) -> "Facts":
        """These facts and one more. A person entry is written by the person it names."""
        by = entry.name if isinstance(entry, Person) else self.person
        row = Row(self.count + 1, now, by, entry)
        kinds = dict(self.kinds)
        kinds[entry.kind] = (*kinds.get(entry.kind, ()), row)
        targets = tuple(_voided(entry))
        voiders = (*self.voiders, (row.n, targets)) if targets else self.voiders
        return replace(
            self,
            count=row.n,
            person=by,
            kinds=MappingProxyType(kinds),
            void=_all_void(voiders) if targets else self.void,
            voiders=voiders,
            boots=_seen(self.boots, now),
            memo={},
        )

    def all(self, model: type[E]) -> tuple[Row[E], ...]:
        """Every row of a kind, those that don't count any more included."""
        return cast(tuple[Row[E], ...], self.kinds.get(_kind_of(model), ()))

    def of(self, model: type[E]) -> tuple[Row[E], ...]:
        """The rows of a kind that count."""
        if not self.void:
            return self.all(model)
        rows = self.memo.get(model)
        if rows is None:
            rows = self.memo[model] = tuple(row for row in self.all(model) if row.n not in self.void)
        return cast(tuple[Row[E], ...], rows)

    def last(self, model: type[E]) -> Row[E] | None:
        """The newest row of a kind that counts."""
        return next((row for row in reversed(self.all(model)) if row.n not in self.void), None)

    def since(self, n: int) -> tuple[Row[Entry], ...]:
        """Rows of every kind after line n, oldest first, those that don't count any more included."""
        rows = [row for kind in self.kinds.values() for row in _after(kind, n)]
        return tuple(sorted(rows, key=lambda row: row.n))

    def between(self, first: int, last: int) -> tuple[Row[Entry], ...]:
        """Rows of every kind after line `first` up to line `last`, oldest first, void ones included."""
        return tuple(row for row in self.since(first) if row.n <= last)

    def rows(self) -> tuple[Row[Entry], ...]:
        """Every row, in the order written."""
        return self.since(0)


@cache
def _kind_of(model: type[Entry]) -> str:
    kind: str = model.model_fields["kind"].default
    return kind


def _after(rows: tuple[Row[Entry], ...], n: int) -> Iterator[Row[Entry]]:
    for row in reversed(rows):
        if row.n <= n:
            return
        yield row


def _voided(entry: Entry) -> Iterable[int]:
    match entry:
        case NoLongerCounts() | Retracted() | Remeasured():
            return entry.entries
        case Corrected():
            return (entry.entry,)
        case _:
            return ()


def _all_void(voiders: Iterable[tuple[int, tuple[int, ...]]]) -> frozenset[int]:
    """Lines that don't count. Newest first: a voider that was itself made void voids nothing."""
    void: set[int] = set()
    for n, targets in sorted(voiders, reverse=True):
        if n not in void:
            void.update(targets)
    return frozenset(void)


def _seen(boots: tuple[Boot, ...], now: Instant) -> tuple[Boot, ...]:
    if boots and boots[-1].boot == now.boot:
        return (*boots[:-1], replace(boots[-1], last=now))
    return (*boots, Boot(now.boot, now, now))


def fold(entries: Iterable[tuple[Entry, Instant]]) -> Facts:
    """The facts that a sequence of entries makes; quicker than adding them one by one."""
    kinds: dict[str, list[Row[Entry]]] = {kind: [] for kind in ENTRY_MODELS}
    voiders: list[tuple[int, tuple[int, ...]]] = []
    firsts: list[Instant] = []
    lasts: list[Instant] = []
    person: str | None = None
    n = 0
    for n, (entry, now) in enumerate(entries, 1):
        person = entry.name if isinstance(entry, Person) else person
        kinds[entry.kind].append(Row(n, now, person, entry))
        if targets := tuple(_voided(entry)):
            voiders.append((n, targets))
        if lasts and lasts[-1].boot == now.boot:
            lasts[-1] = now
        else:
            firsts.append(now)
            lasts.append(now)
    boots = tuple(Boot(first.boot, first, last) for first, last in zip(firsts, lasts, strict=True))
    frozen = MappingProxyType({kind: tuple(rows) for kind, rows in kinds.items() if rows})
    return Facts(n, person, frozen, _all_void(voiders), tuple(voiders), boots)
