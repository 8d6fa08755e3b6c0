"""How files of cases write quantities, and how the library does."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType
from typing import Any

from benchvoice.quantity.units import UNITS, convert, kind_of, to_decimal
from benchvoice.quantity.values import Quantity, quantity

Inputs = Mapping[str, Any]
Outputs = dict[str, Any]

_PLAIN = str.maketrans({"µ": "u", "²": "2", "³": "3", "·": "."})
_SPELLED: Mapping[str, str] = MappingProxyType(
    {
        **{info.symbol.translate(_PLAIN): unit for unit, info in UNITS.items()},
        "N.m": "N_m",
        "kN.m": "kN_m",
        "N.cm": "N_cm",
        "lbf.ft": "ft_lb",
        "lbf.in": "in_lb",
        "ozf.in": "in_oz",
        "kgf.m": "kgf_m",
        "kgf.cm": "kgf_cm",
        "gal (US)": "gal_US",
        "qt (US)": "qt_US",
        "pt (US)": "pt_US",
        "fl oz (US)": "fl_oz_US",
        "gal (imp)": "gal_imp",
        "qt (imp)": "qt_imp",
        "pt (imp)": "pt_imp",
        "fl oz (imp)": "fl_oz_imp",
        "hp (metric)": "PS",
        "cm3": "cc",
        "ml": "cc",
        "mL": "cc",
        "cm3/rev": "cc_rev",
        "in3/rev": "in3_rev",
        "gal/min (US)": "gal_min_US",
        "L/min": "L_min",
        "g.mm": "g_mm",
        "%": "percent",
        "1": "1",
        "degC": "degC",
        "degF": "degF",
        "K": "K",
        "degC (interval)": "delta_degC",
        "degF (interval)": "delta_degF",
        "K (interval)": "delta_K",
        "N/mm2": "MPa",
        "hPa": "mbar",
        "rev/min": "rpm",
        "1/min": "rpm",
    }
)


def unit_of(text: str) -> str:
    """The library's name of a unit as a case writes it; the text itself where it is the same."""
    return text if text in UNITS else _SPELLED.get(text, text)


def given(written: Mapping[str, str]) -> Quantity:
    """A case's quantity. Exponents are allowed here (23e-6): cases are not documents."""
    return Quantity(value=plain(written["value"]), unit=unit_of(written["unit"]))


def all_given(written: Sequence[Mapping[str, str]]) -> tuple[Quantity, ...]:
    """A list of quantities."""
    return tuple(given(one) for one in written)


def in_unit_of(written: Mapping[str, str] | None, other: Mapping[str, str]) -> Decimal | None:
    """A case's value in the unit of another of its quantities; a unit that the library lacks will do in both."""
    if written is None:
        return None
    if written["unit"] == other["unit"]:
        return plain(written["value"])
    return quantity(convert(plain(written["value"]), unit_of(written["unit"]), unit_of(other["unit"])), "1").value


def difference_in(written: Mapping[str, str], other: Mapping[str, str]) -> Decimal:
    """A case's difference (an uncertainty, a guard band) in the unit of another quantity: 0.5 K beside 20 degC is 0.5.

    A unit that the library lacks will do in both.
    """
    if written["unit"] == other["unit"]:
        return plain(written["value"])
    unit, to = unit_of(written["unit"]), unit_of(other["unit"])
    if kind_of(to) == "temperature":
        unit, to = (each if each.startswith("delta_") else f"delta_{each}" for each in (unit, to))
    return quantity(convert(plain(written["value"]), unit, to), "1").value


def expansion_in(written: Mapping[str, str]) -> Decimal:
    """An expansion per kelvin, however it is written."""
    times = _PER_KELVIN[written["unit"]]
    return to_decimal(Fraction(written["value"]) * times)


_PER_KELVIN: Mapping[str, Fraction] = MappingProxyType(
    {
        "1/K": Fraction(1),
        "1/degC": Fraction(1),
        "1/degF": Fraction(9, 5),
        "ppm/K": Fraction(1, 10**6),
        "um/(m.K)": Fraction(1, 10**6),
        "1e-6/K": Fraction(1, 10**6),
    }
)


def plain(text: str) -> Decimal:
    """A number with its exponent written out, so that its decimals are those of the text."""
    number = Decimal(text)
    exponent = number.as_tuple().exponent
    return number.quantize(Decimal(1)) if isinstance(exponent, int) and exponent > 0 else number


def fraction(text: str) -> Fraction:
    """A number such as 1/4 or 1.5."""
    return Fraction(text)


def text_of(value: Decimal) -> str:
    """A number without trailing zeros, as lists of numbers are written."""
    return f"{value.normalize():f}" if value else "0"
