"""Which sense of a value is meant: the step's limits choose, and where they can't, nothing is chosen.

The limits are used as a person at the bench uses them: to place a point, to tell thou from inches, to rule out a
partner that sounds alike; never to make a reading fit.
"""

from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from benchvoice.quantity.units import convert, kind_of
from benchvoice.speech.numbers import decimal_places
from benchvoice.speech.sense import Doubt, Sense
from benchvoice.speech.units import Setting, everyday

# Readings that are a power of ten apart can be told apart within this factor of the limits (a bit over root ten).
_NEAR = Fraction(16, 5)

# A likelier meaning is asked about rather than passed over when it is within this factor of the limits.
_RIVAL = Fraction(10)


@dataclass(frozen=True, slots=True)
class Window:
    """The step's limits, in its unit; ``resolution`` is what its instrument can tell apart."""

    low: Fraction | None = None
    high: Fraction | None = None
    unit: str | None = None
    resolution: Fraction | None = None

    @property
    def known(self) -> bool:
        return self.low is not None or self.high is not None

    def of(self, sense: Sense) -> Fraction:
        """The sense's value in the unit of the limits."""
        return in_unit(sense.value, sense.unit, self.unit)

    def holds(self, sense: Sense) -> bool:
        """Whether a value lies within the limits."""
        value = self.of(sense)
        return (self.low is None or value >= self.low) and (self.high is None or value <= self.high)

    def near(self, sense: Sense, factor: Fraction = _NEAR) -> bool:
        """Whether a value is of the size that the limits speak of, in them or not."""
        value = abs(self.of(sense))
        ends = [abs(end) for end in (self.low, self.high) if end is not None]
        largest = max(ends)
        smallest = min(ends) if self.low is not None and self.low > 0 else Fraction(0)
        return smallest / factor <= value <= largest * factor

    def with_front(self, sense: Sense) -> list[Sense]:
        """What a bare number of inches or millimetres may be the end of: "nine one three four" of 2.9134.

        A micrometer is often read without the figures that don't change. Only values within the limits count.
        """
        if sense.heard is not None or self.unit not in ("in", "mm") or self.low is None or self.high is None:
            return []
        value, size = self.of(sense), Fraction(1, 1000)
        while size <= value:
            size *= 10
        front = (self.high - value) // size * size
        whole = value + front
        complete = replace(sense, value=whole).doubting(Doubt.FRONT)
        return [complete] if value > 0 and front > 0 and whole >= self.low else []

    def too_coarse(self, sense: Sense) -> bool:
        """Whether the words imply steps too coarse to judge by: over a quarter of the distance between the limits.

        Nought has no figures to add, what is clear of the limits by half its step is judged all the same, and nobody
        is asked for more than the instrument can tell. On an instrument read in halves, a whole number is exact.
        """
        if self.low is None or self.high is None or not sense.value:
            return False
        step = in_unit(sense.grain, sense.unit, self.unit, difference=True)
        allowed = (self.high - self.low) / 4
        if self.resolution is not None:
            halves = (1 / self.resolution) in (2, 4)
            allowed = max(allowed, Fraction(1) if halves else self.resolution)
        value = self.of(sense)
        clear = value - step / 2 > self.high or value + step / 2 < self.low
        return step > allowed and not clear


def in_unit(value: Fraction, unit: str | None, to: str | None, difference: bool = False) -> Fraction:
    """A value in the step's unit; unchanged where one of them is not known. A difference has no zero point."""
    if unit is None or to is None or unit == to:
        return value
    shift = convert(0, unit, to) if difference else Fraction(0)
    return convert(value, unit, to) - shift


@dataclass(frozen=True, slots=True)
class Choice:
    """The senses that are left: one, or several to ask about, or none. ``wrong`` are of another kind of quantity."""

    left: tuple[Sense, ...] = ()
    wrong: tuple[Sense, ...] = ()

    @property
    def one(self) -> Sense | None:
        return self.left[0] if len(self.left) == 1 else None


def choose(senses: list[Sense], setting: Setting, window: Window) -> Choice:
    """The senses that survive the step's kind of quantity and its limits."""
    right = [s for s in senses if s.unit is None or setting.kind is None or kind_of(s.unit) == setting.kind]
    if not right:
        return Choice(wrong=tuple(_without_repeats(senses)))
    distinct = _without_repeats(right)
    if window.known and setting.unit is not None:
        return Choice(left=tuple(_by_limits(distinct, window)))
    return Choice(left=tuple(s for s in distinct if not s.by_limits))


def _without_repeats(senses: list[Sense]) -> list[Sense]:
    """One sense for each value, the least doubtful: 129 hundredths and one and 29 hundredths are the same."""
    kept: dict[tuple[Fraction, str | None], Sense] = {}
    for sense in senses:
        key = (sense.value, sense.unit)
        if key not in kept or len(sense.doubts) < len(kept[key].doubts):
            kept[key] = sense
    return list(kept.values())


def _by_limits(senses: list[Sense], window: Window) -> list[Sense]:
    if len(senses) == 1:
        return senses
    inside = [sense for sense in senses if window.holds(sense)]
    face = [sense for sense in senses if not sense.scaled]
    if len(inside) == 1:
        chosen = inside[0]
        rivals = [s for s in senses if s is not chosen and s.rival and window.near(s, _RIVAL)]
        if rivals:
            return [sense for sense in senses if sense in rivals or sense is chosen]
        return [_confirmed(chosen) if chosen in face and len(face) == 1 else chosen.doubting(Doubt.SPARE)]
    if inside:
        return inside
    tails = [whole for sense in senses for whole in window.with_front(sense)]
    if tails:
        return _without_repeats([*tails, *(sense for sense in face if not sense.by_limits)])
    near = [sense for sense in senses if window.near(sense)]
    if len(near) == 1:
        return [near[0] if near[0] in face and len(face) == 1 else near[0].doubting(Doubt.SPARE)]
    return near or [sense for sense in senses if not sense.by_limits] or senses


def _confirmed(sense: Sense) -> Sense:
    """Figures that are a whole number within the limits need no point: nothing was supplied."""
    return replace(sense, doubts=sense.doubts - {Doubt.FIGURES})


_WRITTEN_IN = {"thou": "in", "tenth": "in", "um": "mm"}


def displayed(sense: Sense, setting: Setting) -> Sense:
    """The same value in the unit it is written in: the step's, or inches and millimetres."""
    if sense.unit is None:
        return sense
    own = setting.unit is not None and everyday(sense.unit, setting.unit)
    return converted(sense, str(setting.unit) if own else _WRITTEN_IN.get(sense.unit, sense.unit))


def converted(sense: Sense, unit: str) -> Sense:
    """A sense in another unit of its kind, with the decimals that its step has there."""
    if sense.unit is None or unit == sense.unit:
        return sense
    factor = in_unit(Fraction(1), sense.unit, unit, difference=True)
    value, shift = in_unit(sense.value, sense.unit, unit), _shift(factor)
    places = decimal_places(value) if shift is None else max(0, sense.places + shift)
    return replace(
        sense,
        value=value,
        step=sense.step * factor,
        grain=sense.grain * factor,
        places=places,
        unit=unit,
    )


def _shift(factor: Fraction) -> int | None:
    """By how many places a power of ten moves the point; None for any other factor."""
    return next((-power for power in range(-6, 7) if factor == Fraction(10) ** power), None)


def as_limit(value: Decimal | None) -> Fraction | None:
    return None if value is None else Fraction(value)
