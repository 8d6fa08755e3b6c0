"""Which fasteners an utterance names: by order number, by position, as a range, as all but some, or as a count.

"Seven done" can be number seven or seven of them. Where the facts decide (one by one, in order; or a count equal to
what is open) they do; otherwise it is asked.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from benchvoice.session.hearing import position_names, whole_number

Meaning = Literal["done", "all but", "short count", "which is meant"]


@dataclass(frozen=True, slots=True)
class Said:
    """What was said of the positions of a stage: they are done; all but they are; a count that is too short."""

    meaning: Meaning
    positions: tuple[str, ...] = ()
    count: int | None = None


_ALL_BUT = re.compile(r"^all (?:but|except) (?:number |numbers )?(.+?)(?: done)?$")
_ALL = re.compile(r"^(?:all (?P<all>.+?)|(?P<some>.+?) of (?P<total>.+?))(?: done| tight| torqued)?$")
_SOME = re.compile(r"^(?:(?:numbers?|position|positions) )?(?P<list>.+?)(?: (?:is |are )?(?:done|tight|torqued))?$")
_SAYS_DONE = re.compile(r" (?:done|tight|torqued)$")
_SAYS_NUMBER = re.compile(r"^(?:numbers?|positions?) ")


def understand_positions(text: str, numbers: Mapping[str, int], open_: Sequence[str], *, touched: bool) -> Said | None:
    """What `text` says of a stage whose open positions are `open_`; None where it says nothing of positions.

    `numbers` gives each position its order number; `touched` says that some positions of the stage are done already.
    """
    if found := _ALL_BUT.match(text):
        names = position_names(found[1], numbers)
        return Said("all but", names) if names and set(names) <= set(open_) else None
    if (found := _ALL.match(text)) and (said := _counted(found, open_, numbers)):
        return said
    found = _SOME.match(text)
    names = position_names(found["list"], numbers) if found else None
    if names:
        return _named(text, names, numbers, open_, touched)
    count = whole_number(_SAYS_DONE.sub("", text), "")
    return None if count is None or not count else _count(count, open_)


def _counted(found: re.Match[str], open_: Sequence[str], numbers: Mapping[str, int]) -> Said | None:
    """All ten; ten of ten. A count must be what is open, or the whole group when that is what is open."""
    words = found["all"] or found["some"]
    count = whole_number(words, "")
    total = whole_number(found["total"], "") if found["total"] else count
    if count is None or total is None:
        return None
    if count == total and count in (len(open_), len(numbers)):
        return Said("done", tuple(open_))
    return Said("short count", count=count)


def _count(count: int, open_: Sequence[str]) -> Said:
    return Said("done", tuple(open_)) if count == len(open_) else Said("short count", count=count)


def _named(
    text: str, names: tuple[str, ...], numbers: Mapping[str, int], open_: Sequence[str], touched: bool
) -> Said | None:
    fresh = tuple(name for name in names if name in open_)
    if len(names) > 1 or _SAYS_NUMBER.match(text):
        return Said("done", names)
    number = numbers[names[0]]
    if not touched and number == len(open_) and len(open_) == len(numbers):
        return Said("done", tuple(open_))
    if not fresh:
        return Said("done", names)
    if names[0] == open_[0] or len(open_) == 1:
        return Said("done", names)
    if touched and number == len(open_):
        return Said("which is meant", names, number)
    if not touched:
        return Said("which is meant", names, number) if whole_number(_bare(text), "") == number else Said("done", names)
    return Said("done", names)


def _bare(text: str) -> str:
    return _SAYS_DONE.sub("", text)


def bare_positions(text: str) -> str:
    """The positions in "seven done", "number seven is done now"."""
    words = text.removeprefix("now ").removesuffix(" now")
    for tail in (" is done", " are done", " done", " tight", " torqued"):
        words = words.removesuffix(tail)
    return words
