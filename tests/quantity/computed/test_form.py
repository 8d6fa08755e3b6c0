"""Terms of the bench (common practice); figures invented, the clearances those of the shipped bottom end."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.quantity.computed import COMPUTED
from benchvoice.quantity.values import Quantity
from benchvoice.quantity.values import parse_quantity as q


def r(*texts):
    return tuple(map(q, texts))


BORE = r("2.9131 in", "2.9133 in", "2.9135 in")
SKIRT = r("2.9085 in", "2.9087 in")


@pytest.mark.parametrize(
    ("kind", "inputs", "wanted"),
    [
        ("out_of_round", {"of": r("59.982 mm", "59.976 mm")}, "0.006 mm"),
        ("taper", {"one_end": r("2.3741 in", "2.3738 in"), "other_end": r("2.3736 in", "2.3734 in")}, "0.00045 in"),
        ("taper", {"one_end": r("2.3736 in", "2.3734 in"), "other_end": r("2.3741 in", "2.3738 in")}, "0.00045 in"),
        ("taper", {"one_end": r("59.982 mm", "59.976 mm"), "other_end": r("59.980 mm", "59.978 mm")}, "0.000 mm"),
        ("taper", {"one_end": r("1 mm", "2 mm", "2 mm"), "other_end": r("1 mm")}, "0.6666666667 mm"),
        ("run_out", {"of": r("-0.01 mm", "0.00 mm", "0.02 mm", "0.01 mm")}, "0.03 mm"),
        ("eccentricity", {"of": r("-0.01 mm", "0.00 mm", "0.02 mm", "0.01 mm")}, "0.015 mm"),
        ("eccentricity", {"of": r("2.0 thou")}, "1.0 thou"),
        ("clearance_least", {"bore": BORE, "shaft": SKIRT}, "0.0044 in"),
        ("clearance_mean", {"bore": BORE, "shaft": SKIRT}, "0.0047 in"),
        ("clearance_most", {"bore": BORE, "shaft": SKIRT}, "0.0050 in"),
        ("clearance_mean", {"bore": r("50.010 mm"), "shaft": r("50.012 mm")}, "-0.002 mm"),
        ("shell_clearance", {"housing": r("64.005 mm"), "shell": r("2.000 mm"), "shaft": r("59.975 mm")}, "0.030 mm"),
        (
            "shell_clearance",
            {"housing": r("64.005 mm"), "shell": r("2.000 mm", "2.002 mm"), "shaft": r("59.975 mm")},
            "0.028 mm",
        ),
    ],
)
def test_values(kind, inputs, wanted):
    found = COMPUTED[kind](**inputs)
    assert (str(found.value), found.unit) == (str(q(wanted).value), q(wanted).unit)


# "= tunnel - 2 walls - journal exactly, all three sizes" of the shipped bottom end: 1.5 to 3.0 thou.
@pytest.mark.parametrize(
    ("journal", "wall"), [(("2.1250", "2.1255"), ("0.0715", "0.0717")), (("2.1150", "2.1155"), ("0.0765", "0.0767")),
                          (("2.1050", "2.1055"), ("0.0815", "0.0817"))]
)  # fmt: skip
def test_main_clearance_of_the_bottom_end(journal, wall):
    def clearance(tunnel, shell, shaft):
        return COMPUTED["shell_clearance"](
            housing=r(f"{tunnel} in"), shell=r(f"{shell} in"), shaft=r(f"{shaft} in")
        ).in_unit("tenth")

    assert clearance("2.2704", wall[1], journal[1]) == 15
    assert clearance("2.2710", wall[0], journal[0]) == 30


def test_out_of_round_warns_of_lobes():
    caution = COMPUTED["out_of_round"].caution
    assert (
        caution == "two-point readings can't see an odd number of lobes: turn the part in a vee block where it matters"
    )


@given(
    st.lists(st.decimals(places=4, min_value=1, max_value=9), min_size=1, max_size=5),
    st.lists(st.decimals(places=4, min_value=1, max_value=9), min_size=1, max_size=5),
)
def test_least_mean_and_most_are_in_order(bores, shafts):
    bore = tuple(Quantity(value=value, unit="mm") for value in bores)
    shaft = tuple(Quantity(value=value, unit="mm") for value in shafts)
    least, middle, most = (
        COMPUTED[f"clearance_{name}"](bore=bore, shaft=shaft).value for name in ("least", "mean", "most")
    )
    slack = Quantity(value=q("0.0000000001").value, unit="1").value  # the mean is rounded at ten decimals
    assert least - slack <= middle <= most + slack
