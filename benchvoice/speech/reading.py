"""What a spoken reading is: the step it was said in, what was understood, and what to do with it."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from benchvoice.speech.units import Work


class Action(StrEnum):
    """What to do with what was heard."""

    TAKE = "take"
    READ_BACK = "read back"
    ASK = "ask again"
    BOUND = "bound"
    NOT_A_VALUE = "not a value"


@dataclass(frozen=True, slots=True, kw_only=True)
class Context:
    """The step in hand: its unit, working system, limits, what is measured, and what the instrument can tell apart.

    ``per_division`` is the value of one division of a dial, ``resolution`` the smallest step the instrument shows,
    both in ``unit``. ``what`` is free text; words such as torque, oversize, dial, height or ratio in it are heeded.
    """

    unit: str | None = None
    work: Work = "metric"
    low: Decimal | None = None
    high: Decimal | None = None
    what: str | None = None
    per_division: Decimal | None = None
    resolution: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SpokenReading:
    """What was understood; only what is taken, read back or bound has a value and a unit.

    ``value``, ``low`` and ``high`` are in ``unit``, which is the unit said, or the step's when none was
    (``heard_unit`` is None then). A plain reading lies in the interval ``low`` = ``high`` = ``value``; a bound has one
    end or two. ``resolution`` is the smallest step that the words imply, ``decimals`` how many decimals were said,
    ``digits`` the figures when they were said without a point. ``candidates`` are the values it may have been,
    ``sounds_like`` the phrases that it may be mistaken for, and ``reason`` says in a few words, fit to be spoken,
    why it isn't simply taken. ``other_words`` says that the number, if it is one, stood among words of something else.
    """

    action: Action
    value: Decimal | None = None
    unit: str | None = None
    heard_unit: str | None = None
    low: Decimal | None = None
    high: Decimal | None = None
    resolution: Decimal | None = None
    decimals: int | None = None
    candidates: tuple[str, ...] = ()
    reason: str = ""
    digits: str | None = None
    sounds_like: tuple[str, ...] = ()
    other_words: bool = False
