"""A thread in another condition is warned about, and nothing is scaled (common practice, no source)."""

import pytest

from benchvoice.tighten.lubricant import CONDITIONS, condition_of, lubricant_warning


@pytest.mark.parametrize(
    ("asked", "found", "way"),
    [
        ("dry", "oiled", "more clamp"),
        ("oiled", "dry", "less clamp"),
        ("oiled", "moly grease", "more clamp"),
        ("moly grease", "grease", "less clamp"),
        ("dry", "plated", "another clamp"),
        ("oiled", "fish oil", "another clamp"),
        ("wax", "oiled", "another clamp"),
        ("dry", "locking compound", "more clamp"),
        ("locking compound", "copper", "more clamp"),
    ],
)
def test_warned(asked: str, found: str, way: str) -> None:
    said = f"The figure is for {asked}, this is {found}: the same torque gives {way}. I don't change the figure."
    assert lubricant_warning(asked, found) == said


@pytest.mark.parametrize(
    ("asked", "found"),
    [("dry", "dry"), ("oiled", "engine oil"), ("Oiled", "oiled "), ("wax", "Wax"), ("anti-seize", "copper grease")],
)
def test_not_warned(asked: str, found: str) -> None:
    assert lubricant_warning(asked, found) is None


def test_names() -> None:
    found = condition_of("  Moly ")
    assert found is not None
    assert found.name == "moly grease"
    assert condition_of("snow") is None
    assert all(condition_of(name) is condition for name, condition in CONDITIONS.items())
    factors = [float(c.nut_factor) for c in CONDITIONS.values()]
    assert factors == sorted(factors, reverse=True)
    assert max(factors) == 0.2
    assert min(factors) == 0.12
    others = ["clean and dry", "oil", "lightly oiled", "engine oil", "grease", "anti seize", "copper", "moly"]
    assert all(condition_of(name) for name in [*others, "locked", "threadlock", "zinc plated"])
