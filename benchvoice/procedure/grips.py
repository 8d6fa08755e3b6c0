"""What stretches of a fastener, as a document declares it and as the tightening room knows it."""

from benchvoice.procedure.shop import Grip
from benchvoice.tighten.stretch import Section, StretchError, in_the_grip
from benchvoice.tighten.threads import Thread


def bolt_of(grip: Grip, thread: Thread) -> tuple[Section, ...]:
    """The sections that stretch, mm; a BenchvoiceError for a grip that can't be."""
    across = grip.across.in_unit("mm") if grip.across is not None else None
    shank = grip.shank.in_unit("mm")
    sections = in_the_grip(thread, grip.length.in_unit("mm") - shank, shank, across)
    if not sections:
        raise StretchError("what stretches has no length; give one above nothing")
    return sections
