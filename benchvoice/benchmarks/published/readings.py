"""Adapter of the arithmetic of readings, where the decimals count."""

from decimal import Decimal

from benchvoice.benchmarks.published.notation import Inputs, Outputs
from benchvoice.quantity.reading import add, compared, mean_of, range_of, resolution_of, subtract


def _reading_arith(inputs: Inputs) -> Outputs:
    readings = [Decimal(text) for text in inputs["args"]]
    match inputs["op"]:
        case "store":
            result = readings[0]
        case "resolution_of":
            result = resolution_of(readings[0])
        case "add":
            result = add(*readings)
        case "sub":
            result = subtract(*readings)
        case "mean":
            result = mean_of(readings)
        case "range":
            result = range_of(readings)
        case "equal":
            return {"result": compared(*readings)}
        case other:
            raise ValueError(f"no such operation: {other}")
    return {"result": f"{result:f}"}


KINDS = {"reading_arith": _reading_arith}
