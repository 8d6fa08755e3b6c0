"""The condition of thread and bearing face that a torque holds for.

The same torque on a slippier thread clamps harder. A figure is given for one condition; another is warned about and
nothing is ever scaled: only the maker knows what the other figure is.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """A condition as it is said, and the usual nut factor with it (common practice, no source: for advice alone)."""

    name: str
    nut_factor: Decimal


CONDITIONS: Mapping[str, Condition] = MappingProxyType(
    {
        name: Condition(name=name, nut_factor=Decimal(factor))
        for name, factor in (
            ("dry", "0.20"),
            ("plated", "0.20"),
            ("locking compound", "0.18"),
            ("oiled", "0.16"),
            ("greased", "0.15"),
            ("copper grease", "0.14"),
            ("moly grease", "0.12"),
        )
    }
)

_OTHER_NAMES: Mapping[str, str] = MappingProxyType(
    {
        "clean and dry": "dry",
        "oil": "oiled",
        "lightly oiled": "oiled",
        "engine oil": "oiled",
        "grease": "greased",
        "anti seize": "copper grease",
        "copper": "copper grease",
        "moly": "moly grease",
        "locked": "locking compound",
        "threadlock": "locking compound",
        "zinc plated": "plated",
        "zinc plating": "plated",
        "zinc": "plated",
    }
)


def condition_of(said: str) -> Condition | None:
    """The condition of that name or other name; None for one that isn't known."""
    plain = " ".join(said.lower().replace("-", " ").split())
    return CONDITIONS.get(_OTHER_NAMES.get(plain, plain))


def lubricant_warning(asked: str, found: str) -> str | None:
    """What to say when a thread isn't in the condition that its torque is for; None when it is."""
    one, other = condition_of(asked), condition_of(found)
    if asked.strip().lower() == found.strip().lower() or (one is not None and one == other):
        return None
    way = "another clamp"
    if one is not None and other is not None and one.nut_factor != other.nut_factor:
        way = "more clamp" if other.nut_factor < one.nut_factor else "less clamp"
    return f"The figure is for {asked}, this is {found}: the same torque gives {way}. I don't change the figure."
