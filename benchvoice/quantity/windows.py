"""Windows of time: at least so long (cure), at most so long (open time), with time read pessimistically.

An age is an interval, because clocks may disagree: inside one process the monotonic clock decides; across a restart
only wall clocks are left, and doubt goes to the harmful side. What must not be exceeded is judged by the longer age;
what must have passed, by the shorter. The times on the label stay as printed: a warm bench may bring a *warning*
forward, never a permission.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from benchvoice.errors import DocumentError, InputError
from benchvoice.quantity.functions import power
from benchvoice.quantity.units import Number


class BadWindow(DocumentError):
    """A window that is never open, or a warning outside it."""


class BadTime(InputError):
    """Clock readings that can't be."""


class WindowState(StrEnum):
    """Where the present is in a window."""

    EARLY = "too early"
    OPEN = "open"
    LATE = "too late"
    DOUBTFUL = "can't say"


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """A window in seconds from its start: not before `opens`, not after `closes` (None: for ever)."""

    opens: Decimal = Decimal(0)
    closes: Decimal | None = None
    warnings: tuple[Decimal, ...] = ()

    def __post_init__(self) -> None:
        if self.opens < 0 or (self.closes is not None and self.closes <= self.opens):
            raise BadWindow(f"a window from {self.opens} s to {self.closes} s is never open: mend its times")
        for warning in self.warnings:
            if warning <= 0 or (self.closes is not None and warning >= self.closes):
                raise BadWindow(f"a warning at {warning} s is not inside the window: put it before the end")


@dataclass(frozen=True, slots=True, kw_only=True)
class Age:
    """How long ago a window started, in seconds: at least and at most, and whether its clocks disagree."""

    least: Fraction
    most: Fraction
    doubtful: bool = False


# Wall clocks are set right by a second or so while they run; more than this is a jump.
JUMP = Fraction(5)


def age_by_monotonic(start: Number, now: Number) -> Age:
    """The age inside one process, by its monotonic clock, whatever the wall clock was set to meanwhile."""
    passed = Fraction(now) - Fraction(start)
    if passed < 0:
        raise BadTime("the monotonic clock went backwards: the two readings aren't of one process")
    return Age(least=passed, most=passed)


def jumped(passed: Number, wall: Number) -> bool:
    """Whether the wall clock was set between two readings: it moved by something else than the monotonic clock."""
    return abs(Fraction(wall) - Fraction(passed)) > JUMP


def age_across_restart(*, wall: Number, known: Number, gap: Number) -> Age:
    """The age when the process that saw the start is gone.

    `wall` is the whole time by the wall clock; `known` the time in which processes ran, by their monotonic clocks;
    `gap` the time in which none ran, by the wall clock. Two estimates, then: they disagree when the wall clock was set
    while a process ran. A gap or a whole below what is possible means that it was set back while none ran.
    """
    whole, pieced = Fraction(wall), Fraction(known) + Fraction(gap)
    impossible = gap < 0 or whole < known
    least, most = sorted((whole, pieced))
    return Age(
        least=Fraction(known) if impossible else least,
        most=max(most, Fraction(known)),
        doubtful=impossible or most - least > JUMP,
    )


def state(window: Window, age: Age) -> WindowState:
    """Where an age is in a window: its end judged by the longer age, its beginning by the shorter.

    When clocks disagree nobody can say that there is time left: only that it is past, if even the shorter age is.
    """
    if window.closes is not None and age.doubtful:
        return WindowState.LATE if age.least > window.closes else WindowState.DOUBTFUL
    if window.closes is not None and age.most > window.closes:
        return WindowState.LATE
    return WindowState.EARLY if age.least < window.opens else WindowState.OPEN


def remaining(window: Window, age: Age) -> Fraction | None:
    """Seconds to the end by the longer age (below nought: past it); None for a window without an end."""
    return None if window.closes is None else Fraction(window.closes) - age.most


def warnings_at(window: Window, factor: Number = 1) -> tuple[Fraction, ...]:
    """When to warn, brought forward by a factor below 1 for a warm bench. A factor above 1 puts nothing off."""
    if factor <= 0:
        raise BadTime(f"a factor of {factor} can't be: give one above nought")
    return tuple(Fraction(warning) * min(Fraction(factor), Fraction(1)) for warning in window.warnings)


def pace(temperature: Number, label: Number = 20, halving: Number = 10) -> Fraction:
    """The factor on times at a temperature in degC: half for every ten degrees above the label's.

    Common practice, no source; for warnings alone. BadTime for temperatures that no bench has.
    """
    if halving <= 0 or not -50 <= temperature <= 150 or not -50 <= label <= 150:
        raise BadTime(f"{temperature} degrees against {label} is no bench: give temperatures from -50 to 150 degC")
    return power(Fraction(1, 2), (Fraction(temperature) - Fraction(label)) / Fraction(halving))
