"""Values computed from readings: declared kinds with named inputs, so that documents need no free code.

``COMPUTED["taper"](one_end=(...), other_end=(...))`` computes; ``COMPUTED["taper"].unit_of({...})`` checks units
before the bench.
"""

from collections.abc import Mapping
from types import MappingProxyType

from benchvoice.quantity.computed import arithmetic, form, machine
from benchvoice.quantity.computed.model import BadComputed, ComputedKind, Input, Readings

COMPUTED: Mapping[str, ComputedKind] = MappingProxyType(
    {kind.name: kind for kind in (*arithmetic.KINDS, *form.KINDS, *machine.KINDS)}
)

__all__ = ["COMPUTED", "BadComputed", "ComputedKind", "Input", "Readings"]
