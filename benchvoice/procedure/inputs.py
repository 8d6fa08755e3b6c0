"""Where the inputs of a computed value come from: readings of a step, a computed value, or a fixed size."""

from collections.abc import Mapping

from benchvoice.procedure.limits import Computed
from benchvoice.quantity.computed import COMPUTED
from benchvoice.quantity.values import Quantity, parse_quantity


def sources_of(step: str, computed: Computed) -> Mapping[str, tuple[str, ...]]:
    """The sources of each input by its name: STEP, STEP.COMPUTED or a size such as 67.5 mm.

    Where nothing is said, the first input takes the readings of the step itself.
    """
    if computed.of:
        return {name: (of,) if isinstance(of, str) else of for name, of in computed.of.items()}
    kind = COMPUTED.get(computed.kind)
    return {next(iter(kind.inputs)): (step,)} if kind is not None else {}


def is_constant(source: str) -> bool:
    """Whether a source is a fixed size and no step's reading."""
    return source[:1].isdigit() or source[:1] == "-"


def constant(source: str) -> Quantity | None:
    """The fixed size that a source is; None where it is a step's reading. InputError for a size without sense."""
    return parse_quantity(source) if is_constant(source) else None
