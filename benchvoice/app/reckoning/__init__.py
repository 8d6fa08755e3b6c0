"""Any of the library's computations on its own: `reckon NAME key=value ...`, at the bench and for the curious.

``reckon("adapter", {"torque": "30ft_lb", ...})`` gives a dict fit for JSON; ``listing()`` names them all.
"""

from collections.abc import Mapping
from difflib import get_close_matches
from types import MappingProxyType
from typing import Any

from benchvoice.app.reckoning import choosing, engine, machines, measuring, showing, tightening
from benchvoice.app.reckoning.model import BadReckoning, Field, Reckoning, shown
from benchvoice.errors import BenchvoiceError

RECKONINGS: Mapping[str, Reckoning] = MappingProxyType(
    {
        one.name: one
        for one in (
            *tightening.TABLE,
            *measuring.TABLE,
            *showing.TABLE,
            *choosing.TABLE,
            *engine.TABLE,
            *machines.TABLE,
        )
    }
)

__all__ = ["RECKONINGS", "BadReckoning", "Field", "Reckoning", "listing", "reckon", "reckoning_of"]


def reckoning_of(name: str) -> Reckoning:
    """The reckoning of that name; BadReckoning naming the nearest otherwise."""
    if name not in RECKONINGS:
        near = get_close_matches(name, RECKONINGS, n=1)
        hint = f"did you mean {near[0]!r}?" if near else "'reckon --list' names them all"
        raise BadReckoning(f"there is no reckoning {name!r}: {hint}")
    return RECKONINGS[name]


def reckon(name: str, given: Mapping[str, str]) -> dict[str, Any]:
    """Compute by name from inputs as text: {name, inputs, results, formula, source, caution?}.

    Raises BadReckoning, in one sentence, for a wrong name and for wrong, missing or unusable inputs.
    """
    reckoning = reckoning_of(name)
    values = _read(reckoning, given)
    try:
        results = reckoning.function(**values)
    except BenchvoiceError as fault:
        raise BadReckoning(f"{name}: {fault}") from fault
    answer = {
        "name": name,
        "inputs": {key: given.get(key, field.default) for key, field in reckoning.fields.items()},
        "results": {key: shown(value) for key, value in results.items()},
        "formula": reckoning.formula,
        "source": reckoning.source,
    }
    return {**answer, "caution": reckoning.caution} if reckoning.caution else answer


def listing() -> list[dict[str, Any]]:
    """Every reckoning with its inputs, an example, its formula and its source."""
    return [
        {
            "name": one.name,
            "inputs": {key: field.meaning for key, field in one.fields.items()},
            "example": one.example,
            "formula": one.formula,
            "source": one.source,
        }
        for one in RECKONINGS.values()
    ]


def _read(reckoning: Reckoning, given: Mapping[str, str]) -> dict[str, Any]:
    for key in given:
        if key not in reckoning.fields:
            raise BadReckoning(f"{reckoning.name} has no input {key!r}: its inputs are {', '.join(reckoning.fields)}")
    values = {}
    for key, field in reckoning.fields.items():
        text = given.get(key, field.default)
        if text is None:
            raise BadReckoning(f"{reckoning.name} needs {key} ({field.meaning}): write {key}={field.example}")
        if len(text) > _LONGEST:
            raise BadReckoning(f"{reckoning.name}: {key} is {len(text)} characters long: give it in {_LONGEST} at most")
        try:
            values[key] = field.read(text)
        except BenchvoiceError as fault:
            short = _short(text)
            why = str(fault).replace(text, short) if len(text) > _SHOWN else str(fault)
            raise BadReckoning(f"{reckoning.name}: {key}={short}: {why}") from fault
    return values


_LONGEST = 500
_SHOWN = 40
"""Characters of an input that are shown again in a fault; a longer one was a slip."""


def _short(text: str) -> str:
    """An input short enough for a sentence, on one line."""
    plain = text if text.isprintable() else repr(text)
    return plain if len(plain) <= _SHOWN else plain[: _SHOWN - 1] + "…"
