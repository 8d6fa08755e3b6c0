"""Sources of computed values."""

import pytest

from benchvoice.errors import InputError
from benchvoice.procedure.inputs import Source, cautions_of, constant, source_of, sources_of
from benchvoice.procedure.models import Computed, Measure


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


def test_readings_values_and_places_that_have_a_value() -> None:
    assert source_of("bores") == Source("bores")
    assert source_of("bores.mean_bore") == Source("bores", "mean_bore")
    assert source_of("bores@top") == Source("bores", at="top")
    assert source_of("bores.depth_size@top of it") == Source("bores", "depth_size", "top of it")


def test_a_material_gives_its_expansion() -> None:
    heat = computed(kind="at_twenty", of={"of": "seat", "temperature": "warm"}, material="steel")
    assert sources_of("seat", heat)["expansion"] == ("0.0000115 per_K",)
    assert "expansion" not in sources_of("seat", computed(kind="at_twenty", of={"of": "seat", "temperature": "warm"}))


def test_cautions_are_told_once() -> None:
    oval = {"kind": "out_of_round"}
    measure = Measure.model_validate({"what": "bore", "unit": "mm", "computed": {"oval": oval, "other": oval}})
    assert len(cautions_of(measure)) == 1
    assert cautions_of(Measure.model_validate({"what": "bore", "unit": "mm"})) == ()
