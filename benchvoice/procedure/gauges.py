"""What a document says of how well a step's readings are taken, as the quantity package knows it."""

from benchvoice.procedure.models import Instrument, Measure
from benchvoice.quantity.budget import Effect, Gauge, of_instrument
from benchvoice.quantity.units import kind_of


def gauge_of(name: str, instrument: Instrument) -> Gauge:
    """A declared instrument."""
    return Gauge(
        name=name,
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
        gauge = gauge_of(measure.instrument or "", instrument)
    return None if gauge is None else of_instrument(gauge, measure.unit)
