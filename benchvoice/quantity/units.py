"""The closed list of units, and exact conversion between two units of one kind.

pint does the arithmetic, over ``Fraction`` and a short definitions list of our own, so that every conversion whose
definition is exact is exact both ways. It sits behind :func:`convert` alone, because pint converts too well: a torque
into an energy, a speed of rotation into a frequency, a tolerance in degrees Celsius into a temperature. Here each
unit belongs to one *kind*, and two units of different kinds never meet.

pint is imported at the first conversion, not with this module, to keep it off the path to the first spoken word.

Sources of the definitions: international yard and pound (1959), NIST SP 811 (2008) App. B, SI Brochure (9th ed.).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from difflib import get_close_matches
from fractions import Fraction
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from benchvoice.errors import InputError

if TYPE_CHECKING:
    import pint

Number = Decimal | Fraction | int


class UnknownUnit(InputError):
    """A unit that is not on the closed list."""


class WrongKind(InputError):
    """Two units that measure different things."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitInfo:
    """One unit: what it measures, its printed symbol and its name, and its definition in pint's notation."""

    kind: str
    symbol: str
    name: str
    definition: str


# What the definitions below are written in. Pi is rounded to 50 places: angles in radians, and speeds on them, are
# the only conversions here that are not exact by definition. Columns of mercury (0 degC) and of water (4 degC) are the
# conventional ones.
_BASE = """
meter = [length]
kilogram = [mass]
second = [time]
kelvin = [temperature]; offset: 0
turn = [angle]
radian = turn / 6.28318530717958647692528676655900576839433879875021
minute = 60 * second
inch = 0.0254 * meter
foot = 12 * inch
liter = 0.001 * meter ** 3
gram = 0.001 * kilogram
pound = 0.45359237 * kilogram
newton = kilogram * meter / second ** 2
pound_force = 4.4482216152605 * newton
kilogram_force = 9.80665 * newton
pascal = newton / meter ** 2
watt = newton * meter / second
one = []
"""

_TABLE = """
length                 | in         | in        | inch                     | inch
length                 | thou       | thou      | thou                     | 0.001 * inch
length                 | tenth      | tenth     | tenth of a thou          | 0.0001 * inch
length                 | uin       | µin       | microinch                | 0.000001 * inch
length                 | ft         | ft        | foot                     | foot
length                 | yd        | yd        | yard                     | 3 * foot
length                 | mile      | mile      | mile                     | 5280 * foot
length                 | um         | µm        | micrometre               | 0.000001 * meter
length                 | mm         | mm        | millimetre               | 0.001 * meter
length                 | cm         | cm        | centimetre               | 0.01 * meter
length                 | m          | m         | metre                    | meter
area                   | mm2        | mm²       | square millimetre        | 0.000001 * meter ** 2
area                   | cm2        | cm²       | square centimetre        | 0.0001 * meter ** 2
area                   | in2        | in²       | square inch              | inch ** 2
area                   | m2         | m²        | square metre             | meter ** 2
volume                 | cc         | cc        | cubic centimetre         | 0.001 * liter
volume                 | mm3        | mm³       | cubic millimetre         | 0.000001 * liter
volume                 | L          | L         | litre                    | liter
volume                 | in3        | in³       | cubic inch               | inch ** 3
volume                 | m3         | m³        | cubic metre              | meter ** 3
volume                 | ft3        | ft³       | cubic foot               | foot ** 3
volume                 | qt_US      | US qt     | US quart                 | 57.75 * inch ** 3
volume                 | gal_US     | US gal    | US gallon                | 231 * inch ** 3
volume                 | pt_US     | US pt     | US pint                  | 28.875 * inch ** 3
volume                 | fl_oz_US  | US fl oz  | US fluid ounce           | 1.8046875 * inch ** 3
volume                 | gal_imp    | imp gal   | imperial gallon          | 4.54609 * liter
volume                 | qt_imp    | imp qt    | imperial quart           | 1.1365225 * liter
volume                 | pt_imp    | imp pt    | imperial pint            | 0.56826125 * liter
volume                 | fl_oz_imp | imp fl oz | imperial fluid ounce     | 0.0284130625 * liter
mass                   | g          | g         | gram                     | gram
mass                   | kg         | kg        | kilogram                 | kilogram
mass                   | mg        | mg        | milligram                | 0.001 * gram
mass                   | t         | t         | tonne                    | 1000 * kilogram
mass                   | oz         | oz        | ounce                    | pound / 16
mass                   | lb         | lb        | pound                    | pound
force                  | N          | N         | newton                   | newton
force                  | kN         | kN        | kilonewton               | 1000 * newton
force                  | lbf        | lbf       | pound-force              | pound_force
force                  | ozf        | ozf       | ounce-force              | pound_force / 16
force                  | kgf        | kgf       | kilogram-force           | kilogram_force
torque                 | N_m        | N·m       | newton metre             | newton * meter
torque                 | N_cm      | N·cm      | newton centimetre        | 0.01 * newton * meter
torque                 | kN_m      | kN·m      | kilonewton metre         | 1000 * newton * meter
torque                 | ft_lb      | ft·lbf    | foot-pound               | foot * pound_force
torque                 | in_lb      | in·lbf    | inch-pound               | inch * pound_force
torque                 | in_oz      | in·ozf    | inch-ounce               | inch * pound_force / 16
torque                 | kgf_m      | kgf·m     | kilogram-force metre     | kilogram_force * meter
torque                 | kgf_cm     | kgf·cm    | kilogram-force centimetre| 0.01 * kilogram_force * meter
pressure               | kPa        | kPa       | kilopascal               | 1000 * pascal
pressure               | Pa        | Pa        | pascal                   | pascal
pressure               | mbar      | mbar      | millibar                 | 100 * pascal
pressure               | MPa        | MPa       | megapascal               | 1000000 * pascal
pressure               | GPa        | GPa       | gigapascal               | 1000000000 * pascal
pressure               | bar        | bar       | bar                      | 100000 * pascal
pressure               | psi        | psi       | pound per square inch    | pound_force / inch ** 2
pressure               | Mpsi       | Mpsi      | million psi              | 1000000 * pound_force / inch ** 2
pressure               | ksi       | ksi       | thousand psi             | 1000 * pound_force / inch ** 2
pressure               | kgf_mm2   | kgf/mm²   | kilogram per square mm   | 9806650 * pascal
pressure               | mmHg      | mmHg      | millimetre of mercury    | 133.322387415 * pascal
pressure               | inH2O     | inH2O     | inch of water            | 249.08891 * pascal
pressure               | mmH2O     | mmH2O     | millimetre of water      | 9.80665 * pascal
pressure               | kgf_cm2    | kgf/cm²   | kilogram per square cm   | 98066.5 * pascal
pressure               | atm        | atm       | standard atmosphere      | 101325 * pascal
pressure               | inHg       | inHg      | inch of mercury          | 3386.388640341 * pascal
angle                  | deg        | °         | degree                   | turn / 360
angle                  | turn       | turn      | turn                     | turn
angle                  | rad        | rad       | radian                   | radian
angle                  | arcmin    | ′         | minute of arc            | turn / 21600
angle                  | arcsec    | ″         | second of arc            | turn / 1296000
temperature            | degC       | °C        | degree Celsius           | kelvin; offset: 273.15
temperature            | degF       | °F        | degree Fahrenheit        | 5 / 9 * kelvin; offset: 233.15 + 200 / 9
temperature            | K          | K         | kelvin                   | kelvin
temperature difference | delta_degC | °C        | Celsius degree           | kelvin
temperature difference | delta_degF | °F        | Fahrenheit degree        | 5 / 9 * kelvin
temperature difference | delta_K    | K         | kelvin (difference)      | kelvin
speed                  | rpm        | rpm       | revolution per minute    | turn / minute
speed                  | rad_s      | rad/s     | radian per second        | radian / second
velocity               | m_s        | m/s       | metre per second         | meter / second
velocity               | mm_s       | mm/s      | millimetre per second    | 0.001 * meter / second
velocity               | ft_min     | ft/min    | foot per minute          | foot / minute
velocity               | ft_s      | ft/s      | foot per second          | foot / second
velocity               | km_h      | km/h      | kilometre per hour       | 1000 * meter / (60 * minute)
velocity               | mph       | mph       | mile per hour            | 5280 * foot / (60 * minute)
time                   | s          | s         | second                   | second
time                   | min        | min       | minute                   | minute
time                   | h          | h         | hour                     | 60 * minute
time                   | day        | d         | day                      | 1440 * minute
stiffness              | N_per_mm   | N/mm      | newton per millimetre    | 1000 * newton / meter
stiffness              | lbf_per_in | lbf/in    | pound-force per inch     | pound_force / inch
power                  | W          | W         | watt                     | watt
power                  | kW         | kW        | kilowatt                 | 1000 * watt
power                  | hp         | hp        | horsepower               | 550 * foot * pound_force / second
power                  | PS        | PS        | metric horsepower        | 75 * kilogram_force * meter / second
flow                   | L_min      | L/min     | litre per minute         | liter / minute
flow                   | gal_min_US | US gal/min| US gallon per minute     | 231 * inch ** 3 / minute
displacement           | in3_rev    | in³/rev   | cubic inch per revolution| inch ** 3 / turn
displacement           | cc_rev     | cc/rev    | cubic cm per revolution  | 0.001 * liter / turn
density                | g_cc       | g/cm³     | gram per cubic cm        | 1000 * gram / liter
density                | kg_m3     | kg/m³     | kilogram per cubic metre | kilogram / meter ** 3
density                | lb_in3    | lb/in³    | pound per cubic inch     | pound / inch ** 3
viscosity              | mm2_s     | mm²/s     | square millimetre per s  | 0.000001 * meter ** 2 / second
viscosity              | cSt       | cSt       | centistokes              | 0.000001 * meter ** 2 / second
energy                 | J         | J         | joule                    | newton * meter
energy                 | kWh       | kWh       | kilowatt hour            | 3600000 * newton * meter
unbalance              | g_mm       | g·mm      | gram millimetre          | 0.001 * gram * meter
expansion              | per_K      | 1/K       | per kelvin               | 1 / kelvin
ratio                  | 1          |           | ratio                    | one
ratio                  | percent    | %         | per cent                 | 0.01 * one
"""


def _units() -> Mapping[str, UnitInfo]:
    """The table above, by the unit's spelling."""
    units = {}
    for line in _TABLE.strip().splitlines():
        kind, unit, symbol, name, definition = (cell.strip() for cell in line.split("|"))
        units[unit] = UnitInfo(kind=kind, symbol=symbol, name=name, definition=definition)
    return MappingProxyType(units)


UNITS: Mapping[str, UnitInfo] = _units()


def info_of(unit: str) -> UnitInfo:
    """What is known of a unit; UnknownUnit when it is not on the list."""
    try:
        return UNITS[unit]
    except KeyError:
        near = get_close_matches(unit, UNITS, n=1)
        hint = f"did you mean {near[0]!r}?" if near else "use one such as mm, thou, N_m, ft_lb, bar, g, deg or min"
        raise UnknownUnit(f"{unit!r} is not a unit: {hint}") from None


def kind_of(unit: str) -> str:
    """The kind of quantity that a unit measures, such as 'length' or 'temperature difference'."""
    return info_of(unit).kind


def units_of(kind: str) -> tuple[str, ...]:
    """Every unit of one kind, in the order of the table."""
    return tuple(unit for unit, info in UNITS.items() if info.kind == kind)


def convert(value: Number, unit: str, to: str) -> Fraction:
    """A value of one unit in another of the same kind, exactly (radians apart: pi to 50 places).

    Raises UnknownUnit, or WrongKind when the two units measure different things.
    """
    kind, other = kind_of(unit), kind_of(to)
    if kind != other:
        raise WrongKind(f"{unit} is a {kind} and {to} is a {other}: give a unit of {kind}, such as {units_of(kind)[0]}")
    exact = Fraction(value)
    if unit == to:
        return exact
    factor, offset = _line(unit, to)
    return exact * factor + offset


@cache
def _line(unit: str, to: str) -> tuple[Fraction, Fraction]:
    """Factor and offset between two units: each conversion is a straight line, so pint is asked twice and no more."""
    registry = _registry()
    at_zero, at_one = (Fraction(registry.convert(Fraction(n), f"u_{unit}", f"u_{to}")) for n in (0, 1))
    return at_one - at_zero, at_zero


@cache
def _registry() -> "pint.UnitRegistry[Fraction]":
    import pint

    own = [f"u_{unit} = {info.definition}" for unit, info in UNITS.items()]
    return pint.UnitRegistry(_BASE.strip().splitlines() + own, non_int_type=Fraction)


def to_decimal(value: Number, places: int | None = None) -> Decimal:
    """A value as a Decimal: exactly where it terminates, else rounded half to even at 10 places.

    With `places` given, there are never more decimals than that, even of a value that terminates further on.
    """
    exact = Fraction(value)
    terminating = _terminating_places(exact.denominator)
    wanted = terminating if terminating is not None else 10 if places is None else places
    if places is not None:
        wanted = min(wanted, places)
    scaled = round(exact * Fraction(10) ** wanted)
    return Decimal((int(scaled < 0), tuple(int(digit) for digit in str(abs(scaled))), -wanted))


def _terminating_places(denominator: int) -> int | None:
    """How many decimals a fraction with this denominator has; None when they never end."""
    twos = fives = 0
    while denominator % 2 == 0:
        denominator, twos = denominator // 2, twos + 1
    while denominator % 5 == 0:
        denominator, fives = denominator // 5, fives + 1
    return max(twos, fives) if denominator == 1 else None
