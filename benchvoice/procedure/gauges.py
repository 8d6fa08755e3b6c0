"""What a document says of its instruments and of how well a step's readings are taken, as quantity knows it."""

from datetime import date

from benchvoice.procedure.models import Instrument, Measure, Wrench
from benchvoice.procedure.register import TORQUE_WRENCH
from benchvoice.quantity.budget import Effect, Gauge, of_instrument
from benchvoice.quantity.instruments import Due
from benchvoice.quantity.instruments import Instrument as Known
from benchvoice.quantity.units import kind_of


def declared(name: str, instrument: Instrument | Wrench) -> Known:
    """An instrument or a wrench of a document, by the document's name for it."""
    due = Due(by=None if instrument.calibration_due is None else date.fromisoformat(instrument.calibration_due))
    if isinstance(instrument, Wrench):
        low, high = instrument.range
        return Known(
            id=name,
            kind=TORQUE_WRENCH,
            unit=instrument.unit,
            resolution=instrument.step,
            low=low,
            high=high,
            class_percent=instrument.class_percent,
            due=due,
            says=(f"{name.replace('_', ' ')} wrench",),
        )
    least, most = instrument.range or (None, None)
    return Known(
        id=name,
        kind=instrument.kind,
        unit=instrument.unit,
        resolution=instrument.resolution,
        low=least,
        high=most,
        uncertainty=instrument.uncertainty,
        k=instrument.k,
        repeatability=instrument.repeatability,
        due=due,
        says=(instrument.kind,),
    )


def gauge_of(instrument: Known) -> Gauge:
    """What is known of how well an instrument reads."""
    return Gauge(
        name=instrument.id,
        unit=instrument.unit,
        stated=instrument.uncertainty,
        k=instrument.k,
        resolution=instrument.resolution,
        repeatability=instrument.repeatability,
    )


def stated_at(step: str, measure: Measure) -> Gauge | None:
    """What the step itself states of its readings, whatever they are taken with."""
    if measure.uncertainty is None:
        return None
    return Gauge(name=step, unit=measure.unit, stated=measure.uncertainty)


def least_effect(step: str, measure: Measure, instrument: Instrument | None) -> Effect | None:
    """The least that can be in doubt about a reading of a step, in its unit; None where nothing is known."""
    gauge = stated_at(step, measure)
    if gauge is None and instrument is not None and kind_of(instrument.unit) == kind_of(measure.unit):
        gauge = gauge_of(declared(measure.instrument or "", instrument))
    return None if gauge is None else of_instrument(gauge, measure.unit)
