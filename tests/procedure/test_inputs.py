"""Sources of computed values."""

import pytest

from benchvoice.errors import InputError
from benchvoice.procedure.inputs import constant, sources_of
from benchvoice.procedure.models import Computed


def computed(**parts: object) -> Computed:
    return Computed.model_validate(parts)


def test_the_step_itself_where_nothing_is_said() -> None:
    assert sources_of("gap", computed(kind="mean")) == {"of": ("gap",)}
    assert sources_of("gap", computed(kind="clearance_mean")) == {"bore": ("gap",)}


def test_one_source_or_several() -> None:
    of = {"plus": "housing.mean", "minus": ["stack", "92.00 mm"]}
    assert sources_of("gap", computed(kind="net", of=of)) == {
        "plus": ("housing.mean",),
        "minus": ("stack", "92.00 mm"),
    }


def test_a_size_is_no_step() -> None:
    assert str(constant("67.50 mm")) == "67.50 mm"
    assert constant("backlash.at_the_teeth") is None
    with pytest.raises(InputError):
        constant("67.5 furlong")
