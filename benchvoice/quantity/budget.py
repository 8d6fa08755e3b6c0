"""The uncertainty budget of a value: what each source adds, and the expanded uncertainty that a verdict rests on.

Every source is a signed effect on the value: what the value changes by when the source goes one standard uncertainty
up (GUM 5.1.3, note 2, which takes half the change between one up and one down in place of a derivative). Effects of
one instrument may be the same error again or errors of their own; which, nobody at a bench knows. Of sources that are
equally correlated the variance is linear in the correlation (GUM 5.2.2), so the greater of its two ends, none and all,
is never too small: that one is taken.

All figures of a budget are in one unit, the unit of the value that it is the budget of.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from fractions import Fraction

from benchvoice.quantity.rounding import magnitude
from benchvoice.quantity.uncertainty import (
    Part,
    Source,
    combined,
    coverage_factor,
    effective_freedom,
    of_repeats,
    standard,
)
from benchvoice.quantity.units import convert, to_decimal

COVERAGE = Decimal("0.9545")
"""What an expanded uncertainty covers: k = 2 where nothing limits the degrees of freedom (GUM table G.1)."""
_DIGITS = 3
_PLACES = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Effect:
    """One source's effect on a value.

    `source` names it. Effects of one `shared` source may be one error; others of one name are independent of each
    other. `freedom` is the degrees of freedom of its standard uncertainty (None: many).
    """

    source: str
    u: Decimal
    shared: bool = False
    freedom: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Gauge:
    """What is known of how well an instrument reads, in `unit`.

    stated: its expanded uncertainty with coverage factor `k`, which holds its own resolution already.
    repeatability: the standard deviation of single readings, known from earlier ones (a pooled estimate, GUM 4.2.4).
    """

    name: str
    unit: str
    stated: Decimal | None = None
    k: Decimal = Decimal(2)
    resolution: Decimal | None = None
    repeatability: Decimal | None = None


def span(value: Decimal, unit: str, to: str) -> Decimal:
    """A difference in another unit: no offset of a temperature scale comes in. WrongKind between kinds."""
    return to_decimal(convert(value, unit, to) - convert(0, unit, to), _PLACES)


def of_instrument(gauge: Gauge, unit: str, read_to: Decimal | None = None) -> Effect | None:
    """What the instrument itself adds to a reading in `unit` that was said to steps of `read_to` (of `unit`).

    Stated: U / k (GUM 4.3.3), and a coarser step of the reading besides. Not stated: the coarser of its resolution and
    the reading's own step a, as a half-width over the root of three: a / (2 * 3^0.5) (GUM F.2.2.1). None: not known.
    """
    shown = span(gauge.resolution, gauge.unit, unit) if gauge.resolution is not None else None
    step = max((each for each in (shown, read_to) if each is not None), default=None)
    if gauge.stated is None:
        if shown is None or step is None:
            return None
        return Effect(source=gauge.name, u=standard(Source.RESOLUTION, step), shared=True)
    u = standard(Source.CERTIFICATE, span(gauge.stated, gauge.unit, unit), gauge.k)
    if step is not None and (shown is None or step > shown) and step == read_to:
        u = combined((Part(u=u), Part(u=standard(Source.RESOLUTION, step))))
    return Effect(source=gauge.name, u=u, shared=True)


def of_spread(source: str, repeats: Sequence[Decimal], known: Decimal | None = None) -> Effect | None:
    """What the spread of repeat readings adds to one of them (GUM 4.2.2); None where nothing is known of it.

    The greater of what these repeats show and what is `known` of such readings, their standard deviation: few readings
    may agree by chance.
    """
    found: list[Effect] = []
    if known is not None:
        found.append(Effect(source=source, u=known))
    if len(repeats) > 1:
        shown = of_repeats(repeats)
        found.append(Effect(source=source, u=shown.deviation, freedom=shown.freedom))
    return max(found, key=lambda each: each.u, default=None)


def carried(
    value: Callable[[Sequence[Decimal]], Decimal], inputs: Sequence[Decimal], effects: Sequence[Sequence[Effect]]
) -> tuple[Effect, ...]:
    """The effects on a value computed from inputs, from the effects on each input (GUM 5.1.3, note 2)."""
    found = []
    for at, own in enumerate(effects):
        for effect in own:
            up, down = ([*inputs[:at], inputs[at] + way * effect.u, *inputs[at + 1 :]] for way in (1, -1))
            half = (Fraction(value(up)) - Fraction(value(down))) / 2
            found.append(
                Effect(source=effect.source, u=to_decimal(half, _PLACES), shared=effect.shared, freedom=effect.freedom)
            )
    return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class Expanded:
    """An expanded uncertainty, rounded up to three digits, and the coverage factor in it."""

    value: Decimal
    k: Decimal


def expanded(effects: Iterable[Effect]) -> Expanded:
    """The expanded uncertainty of a value that has these effects, for a coverage of 95.45 %.

    The coverage factor is Student's for the effective degrees of freedom, cut to a whole number (GUM G.4.1, G.6.4): few
    repeats say little of their own spread.
    """
    parts = _parts(effects)
    freedom = effective_freedom(parts)
    k = Decimal(2) if freedom is None else coverage_factor(COVERAGE, max(1, int(freedom)))
    return Expanded(value=rounded_up(k * combined(parts)), k=rounded_up(k))


def _parts(effects: Iterable[Effect]) -> tuple[Part, ...]:
    by_source: dict[tuple[str, bool], list[Effect]] = {}
    for effect in effects:
        by_source.setdefault((effect.source, effect.shared), []).append(effect)
    parts = []
    for (_, shared), group in by_source.items():
        apart = combined([Part(u=effect.u) for effect in group])
        whole = max(apart, abs(sum((effect.u for effect in group), Decimal(0)))) if shared else apart
        freedoms = [effect.freedom for effect in group if effect.freedom is not None]
        parts.append(Part(u=whole, freedom=min(freedoms, default=None)))
    return tuple(parts)


def rounded_up(value: Decimal, digits: int = _DIGITS) -> Decimal:
    """Rounded up to so many significant digits (GUM 7.2.6: an uncertainty may rather be rounded up), no idle zeros."""
    if value == 0:
        return Decimal(0)
    step = Decimal((0, (1,), magnitude(value) - digits + 1))
    whole = value.quantize(step, ROUND_CEILING) if value.as_tuple().exponent != step.as_tuple().exponent else value
    short = whole.normalize()
    exponent = short.as_tuple().exponent
    return short.quantize(Decimal(1)) if isinstance(exponent, int) and exponent > 0 else short
