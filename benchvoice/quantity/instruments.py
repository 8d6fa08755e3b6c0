"""The register of instruments: what each can measure and how well, and whether it may be used without being asked.

A reading carries its instrument's id. An instrument that is overdue, or a reading outside its range, isn't refused:
it needs a spoken override with a reason, and is listed afterwards.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType

from benchvoice.errors import DocumentError
from benchvoice.quantity.uncertainty import Part, Source, combined, standard
from benchvoice.quantity.units import convert, kind_of, to_decimal


class BadInstrument(DocumentError):
    """An instrument that is declared with figures that can't be, or that isn't declared."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """When an instrument must be calibrated again: by a date, so many days after the last, or after so many uses.

    The first of them to come counts. ISO 6789-1 asks for wrenches twelve months or 5000 uses (recalled from memory).
    """

    by: date | None = None
    days: int | None = None
    uses: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Instrument:
    """An instrument: its range, resolution and expanded uncertainty in its unit, and when it is due.

    `k` is the coverage factor of the uncertainty, `repeatability` the standard deviation of its single readings,
    `class_percent` what a torque wrench may deviate by its class; `says` what it is called at the bench.
    """

    id: str
    kind: str
    unit: str
    resolution: Decimal | None
    low: Decimal | None = None
    high: Decimal | None = None
    uncertainty: Decimal | None = None
    k: Decimal = Decimal(2)
    repeatability: Decimal | None = None
    class_percent: Decimal | None = None
    calibrated: date | None = None
    due: Due = Due()
    says: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        kind_of(self.unit)
        if self.resolution is not None and self.resolution <= 0:
            raise BadInstrument(f"{self.id}: a resolution of {self.resolution} is not above nought")
        if self.uncertainty is not None and self.uncertainty < 0:
            raise BadInstrument(f"{self.id}: an uncertainty of {self.uncertainty} is below nought")
        if self.low is not None and self.high is not None and self.low >= self.high:
            raise BadInstrument(f"{self.id}: a range from {self.low} to {self.high} holds nothing: swap them")
        if self.due.days is not None and self.calibrated is None:
            raise BadInstrument(f"{self.id}: due so many days after its calibration, which has no date: give one")


def due_date(instrument: Instrument) -> date | None:
    """The date from which it is overdue, from both date rules; None when neither is declared."""
    dates = []
    if instrument.due.by is not None:
        dates.append(instrument.due.by)
    if instrument.due.days is not None and instrument.calibrated is not None:
        dates.append(instrument.calibrated + timedelta(days=instrument.due.days))
    return min(dates, default=None)


def objections(
    instrument: Instrument, *, on: date, uses: int = 0, value: Decimal | None = None, unit: str = ""
) -> list[str]:
    """Why a use needs an override, each in a few words; none when it needs none.

    `uses` counts since the last calibration; the due date itself is still in time; `value` is what was read or is to
    be set, in `unit` (the instrument's own unless given). Raises WrongKind for a value it can't measure at all.
    """
    found = []
    due = due_date(instrument)
    if due is not None and on > due:
        found.append(f"calibration was due on {due.isoformat()}")
    if instrument.due.uses is not None and uses >= instrument.due.uses:
        found.append(f"calibration was due after {instrument.due.uses} uses")
    if value is not None:
        exact = convert(value, unit or instrument.unit, instrument.unit)
        if instrument.low is not None and exact < instrument.low:
            found.append(f"below its range, which starts at {instrument.low} {instrument.unit}")
        if instrument.high is not None and exact > instrument.high:
            found.append(f"above its range, which ends at {instrument.high} {instrument.unit}")
    return found


def expanded_uncertainty(instrument: Instrument, read_to: Decimal | None = None) -> Decimal | None:
    """The expanded uncertainty (k = 2) of one reading: what is stated, with the reading's own step where coarser.

    `read_to` is the resolution of the reading as it was said, in the instrument's unit. A stated uncertainty already
    holds the instrument's own resolution. None when none is stated.
    """
    if instrument.uncertainty is None:
        return None
    if read_to is None or (instrument.resolution is not None and read_to <= instrument.resolution):
        if instrument.k == 2:
            return instrument.uncertainty
        return to_decimal(2 * Fraction(instrument.uncertainty) / Fraction(instrument.k), 10)
    parts = (
        Part(u=standard(Source.CERTIFICATE, instrument.uncertainty, instrument.k)),
        Part(u=standard(Source.RESOLUTION, read_to)),
    )
    return to_decimal(2 * combined(parts), 10)


@dataclass(frozen=True, slots=True)
class Register:
    """The instruments of a shop, by id; one register serves many builds."""

    by_id: Mapping[str, Instrument]

    @classmethod
    def of(cls, *instruments: Instrument) -> "Register":
        """A register of these; BadInstrument when two have one id."""
        by_id = {}
        for instrument in instruments:
            if instrument.id in by_id:
                raise BadInstrument(f"two instruments are called {instrument.id}: give each its own id")
            by_id[instrument.id] = instrument
        return cls(MappingProxyType(by_id))

    def __getitem__(self, name: str) -> Instrument:
        if name not in self.by_id:
            raise BadInstrument(
                f"no instrument {name!r} is in the register: its ids are {', '.join(self.by_id) or 'none'}"
            )
        return self.by_id[name]

    def __iter__(self) -> Iterator[Instrument]:
        return iter(self.by_id.values())

    def overdue(self, on: date, uses: Mapping[str, int] = MappingProxyType({})) -> list[Instrument]:
        """The instruments that may not be used on a day without an override."""
        return [one for one in self if objections(one, on=on, uses=uses.get(one.id, 0))]
