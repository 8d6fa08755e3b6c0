"""Where the inputs of a computed value come from: readings of a step, a computed value, or a fixed size."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from benchvoice.procedure.kinds import Measure
from benchvoice.procedure.limits import Computed
from benchvoice.quantity.computed import COMPUTED
from benchvoice.quantity.thermal import EXPANSION
from benchvoice.quantity.values import Quantity, parse_quantity

EXPANDS = "expansion"
"""The input that a named material fills."""


@dataclass(frozen=True, slots=True)
class Source:
    """Readings of a step, or a computed value of it; with `at`, only at the places that have this value."""

    step: str
    computed: str = ""
    at: str = ""


@cache
def source_of(text: str) -> Source:
    """The source that STEP, STEP.COMPUTED, STEP@VALUE or STEP.COMPUTED@VALUE names."""
    name, _, at = text.partition("@")
    step, _, computed = name.partition(".")
    return Source(step, computed, at)


def sources_of(step: str, computed: Computed) -> Mapping[str, tuple[str, ...]]:
    """The sources of each input by its name: STEP, STEP.COMPUTED, either with @VALUE, or a size such as 67.5 mm.

    Where nothing is said, the first input takes the readings of the step itself. A material gives its expansion.
    """
    kind = COMPUTED.get(computed.kind)
    found: dict[str, tuple[str, ...]] = {}
    if computed.of:
        found = {name: (of,) if isinstance(of, str) else of for name, of in computed.of.items()}
    elif kind is not None:
        found = {next(iter(kind.inputs)): (step,)}
    if computed.material is not None and computed.material in EXPANSION:
        found[EXPANDS] = (f"{EXPANSION[computed.material]:f} per_K",)
    return found


def cautions_of(measure: Measure) -> tuple[str, ...]:
    """What must be known before readings are trusted with the values that are computed from them, once each."""
    kinds = (COMPUTED.get(each.kind) for each in measure.computed.values())
    return tuple(dict.fromkeys(kind.caution for kind in kinds if kind is not None and kind.caution))


def is_constant(source: str) -> bool:
    """Whether a source is a fixed size and no step's reading."""
    return source[:1].isdigit() or source[:1] == "-"


def constant(source: str) -> Quantity | None:
    """The fixed size that a source is; None where it is a step's reading. InputError for a size without sense."""
    return parse_quantity(source) if is_constant(source) else None
