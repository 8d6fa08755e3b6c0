"""Which fasteners an utterance names: by order number, by position, as a range, as all but some, or as a count.

"Seven done" can be number seven or seven of them. Where the facts decide (one by one, in order; or a count equal to
what is open) they do; otherwise it is asked.
"""

import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from benchvoice.session.hearing import position_names, whole_number
from benchvoice.speech.say import say_count, say_list

Meaning = Literal["done", "all but", "short count", "which is meant", "no count"]


@dataclass(frozen=True, slots=True)
class Said:
    """What was said of the positions of a stage: they are done; all but they are; a count that is too short."""

    meaning: Meaning
    positions: tuple[str, ...] = ()
    count: int | None = None


_ALL_BUT = re.compile(r"^all (?:but|except) (?:number |numbers )?(.+?)(?: done)?$")
_ALL = re.compile(r"^(?:all (?P<all>.+?)|(?P<some>.+?) of (?P<total>.+?))(?: done| tight| torqued)?$")
_SOME = re.compile(r"^(?:(?:numbers?|position|positions) )?(?P<list>.+?)(?: (?:is |are )?(?:done|tight|torqued))?$")
_NO_COUNT = ("all done", "all of them", "all of them done", "they're all done", "the lot", "the rest done", "all tight")
_SAYS_DONE = re.compile(r" (?:done|tight|torqued)$")
_SAYS_NUMBER = re.compile(r"^(?:numbers?|positions?) ")


def understand_positions(
    text: str, numbers: Mapping[str, int], open_: Sequence[str], *, touched: bool, left: Collection[str] = ()
) -> Said | None:
    """What `text` says of a stage whose open positions are `open_`; None where it says nothing of positions.

    `numbers` gives each position its order number; `touched` says that some positions of the stage are done already;
    `left` are positions that are left for later anyway.
    """
    if text in _NO_COUNT:
        return Said("no count")
    if found := _ALL_BUT.match(text):
        names = position_names(found[1], numbers)
        if not names or not set(names) <= {*open_, *left}:
            return None
        more = tuple(name for name in names if name in open_)
        return Said("all but", more) if more else Said("done", tuple(open_))
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
    words = plain_positions(text).removeprefix("now ").removesuffix(" now")
    for tail in (" is done", " are done", " done", " tight", " torqued"):
        words = words.removesuffix(tail)
    return words


def plain_positions(text: str) -> str:
    """ "Nine's done" as "nine done"; any other words as they are."""
    for tail in ("done", "tight", "torqued"):
        if text.endswith(f"'s {tail}"):
            return text.removesuffix(f"'s {tail}") + f" {tail}"
    return text


SPOILT = {
    "stripped": ("stripped", "has stripped", "is stripped", "crossed"),
    "broken": ("broken", "broke", "snapped", "sheared", "has snapped", "has sheared", "is broken"),
    "turned too far": ("went past", "overturned", "went too far", "too far", "is past", "gone past", "past its angle"),
}
"""What can be said of a fastener that is spoilt, by what that makes it."""


def spoilt_position(text: str, numbers: Mapping[str, int]) -> tuple[str, tuple[str, ...]] | None:
    """What became of which positions: "number eight stripped", "seven went past"."""
    for what, tails in SPOILT.items():
        for tail in sorted(tails, key=len, reverse=True):
            if text.endswith(f" {tail}"):
                names = position_names(text.removesuffix(f" {tail}").removesuffix("'s"), numbers)
                return (what, names) if names else None
    return None


def say_numbers(numbers: Iterable[int]) -> str:
    """Order numbers in words, runs of three and more as ranges: one to six, eight and nine."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    spoken: list[str] = []
    for run in runs:
        if len(run) > 2:
            spoken.append(f"{say_count(run[0])} to {say_count(run[-1])}")
        else:
            spoken.extend(say_count(number) for number in run)
    return say_list(spoken)
