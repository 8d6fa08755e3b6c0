"""An instrument of the shop's register as a build's log keeps it, so that a verdict can be made again from the log."""

from datetime import date
from decimal import Decimal

from pydantic import BaseModel, ConfigDict

from benchvoice.quantity.instruments import BadInstrument, Due, Instrument


class KnownInstrument(BaseModel):
    """An instrument as the register had it, and its uses since its last calibration before this build."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    id: str
    kind: str
    unit: str
    says: tuple[str, ...] = ()
    low: Decimal | None = None
    high: Decimal | None = None
    resolution: Decimal | None = None
    uncertainty: Decimal | None = None
    """Expanded."""
    k: Decimal = Decimal(2)
    repeatability: Decimal | None = None
    class_percent: Decimal | None = None
    calibrated: str | None = None
    """Day of the last calibration, 2026-03-01."""
    due_by: str | None = None
    due_days: int | None = None
    due_uses: int | None = None
    used: int = 0

    @classmethod
    def of(cls, instrument: Instrument, used: int = 0) -> "KnownInstrument":
        """What the log keeps of an instrument."""
        due = instrument.due
        same = {name: getattr(instrument, name) for name in _SAME}
        calibrated, by = (None if day is None else day.isoformat() for day in (instrument.calibrated, due.by))
        return cls(**same, calibrated=calibrated, due_by=by, due_days=due.days, due_uses=due.uses, used=used)

    @property
    def names(self) -> tuple[str, ...]:
        """What it is called at the bench, the first of them when it is spoken of."""
        return self.says or (self.id.replace("_", " "),)

    def instrument(self) -> Instrument:
        """The instrument that it was. BadInstrument, UnknownUnit for figures that no register could have held."""
        due = Due(by=_day(self.due_by), days=self.due_days, uses=self.due_uses)
        same = {name: getattr(self, name) for name in _SAME}
        return Instrument(**same, calibrated=_day(self.calibrated), due=due)


_SAME = (
    "id",
    "kind",
    "unit",
    "says",
    "low",
    "high",
    "resolution",
    "uncertainty",
    "k",
    "repeatability",
    "class_percent",
)


def _day(text: str | None) -> date | None:
    """A day as it was written; BadInstrument for a text that is none."""
    try:
        return None if text is None else date.fromisoformat(text)
    except ValueError:
        raise BadInstrument(f"{text!r} is no day: write it as 2026-03-01") from None
