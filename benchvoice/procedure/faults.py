"""Faults of a document: where, what and the remedy; all of them are told at once."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from benchvoice.errors import DocumentError

MOST_TOLD = 100
"""More faults than this are counted, not told one by one."""


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One thing to mend (or, as advice, to think about): `file:line: path: what; remedy`."""

    file: str
    line: int
    path: str
    what: str
    remedy: str

    def __post_init__(self) -> None:
        """Names and values that were written over several lines are told on one."""
        for part in ("path", "what", "remedy"):
            object.__setattr__(self, part, " ".join(getattr(self, part).split()))

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.path}: {self.what}; {self.remedy}"


class DocumentFaults(DocumentError):
    """A document with faults; `faults` holds every one, in the order of the file."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(sorted(faults))
        told = [str(fault) for fault in self.faults[:MOST_TOLD]]
        left = len(self.faults) - len(told)
        if left:
            told.append(f"{self.faults[0].file}: {left} more faults; mend these first")
        super().__init__("\n".join(told))


def nearest(name: str, known: Iterable[str]) -> str:
    """The remedy for a name that isn't known: the nearest one that is, or all of them when they are few."""
    names = sorted(set(known))
    near = get_close_matches(name.lower(), names, n=1, cutoff=0.6)
    if near:
        return f"did you mean {near[0]}?"
    return f"write one of {listed(names)}" if names else "there is none yet; add it first"


def listed(names: Sequence[str], most: int = 12) -> str:
    """Names in a row, the rest counted."""
    shown = ", ".join(names[:most])
    return shown if len(names) <= most else f"{shown} and {len(names) - most} more"
