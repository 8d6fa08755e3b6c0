from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.quantity.hydraulics import BadFigures, flow, mix, pull, push, turning_torque
from benchvoice.quantity.values import parse_quantity as q

D = Decimal


# Computed: definitions.
def test_cylinder_force():
    assert round(push(q("160 bar"), q("63 mm")).value, 3) == D("49.876")
    assert round(pull(q("160 bar"), q("63 mm"), q("36 mm")).value, 3) == D("33.590")
    assert push(q("16 MPa"), q("6.3 cm")) == push(q("160 bar"), q("63 mm"))
    assert round(push(q("1000 psi"), q("2 in"), "lbf").value, 2) == D("3141.59")
    assert pull(q("160 bar"), q("63 mm"), q("0 mm")) == push(q("160 bar"), q("63 mm"))
    assert pull(q("160 bar"), q("63 mm"), q("36 mm"), "N").unit == "N"


@pytest.mark.parametrize("rod", ["63 mm", "70 mm", "6.3 cm"])
def test_a_rod_fits_its_bore(rod):
    with pytest.raises(BadFigures, match="doesn't fit a bore of 63 mm: look at the two figures"):
        pull(q("160 bar"), q("63 mm"), q(rod))


def test_flow():
    assert flow(q("16 cc_rev"), q("1450 rpm"), D("0.92")) == q("21.344 L_min")
    assert flow(q("10 cc_rev"), q("1000 rpm"), 1) == q("10 L_min")


def test_turning_torque():
    assert turning_torque(q("12 N"), q("0.045 m")) == q("0.54 N_m")
    assert turning_torque(q("4.5 lbf"), q("3.25 in")) == q("14.625 in_lb")
    assert turning_torque(q("1 lbf"), q("1 ft")) == q("12 in_lb")
    assert turning_torque(q("1 kgf"), q("1 m")) == q("9.80665 N_m")
    assert turning_torque(q("1 lbf"), q("1 m")) == q("4.4482216152605 N_m")
    # From the shipped reduction gear: 0.80 to 1.20 N m is 20 to 30 N at a drum of 40 mm radius.
    assert turning_torque(q("20 N"), q("40 mm")) == q("0.8 N_m")


@pytest.mark.parametrize(
    ("total", "parts", "wanted"),
    [
        ("110 g", (10, 1), ("100 g", "10 g")),
        ("45 g", (2, 1), ("30 g", "15 g")),
        ("75 g", (100, 28), ("58.59375 g", "16.40625 g")),
    ],
)
def test_mix(total, parts, wanted):
    assert mix(q(total), parts) == tuple(map(q, wanted))


@given(
    st.decimals(places=1, min_value=1, max_value=500),
    st.integers(min_value=1, max_value=100),
    st.integers(min_value=1, max_value=100),
)
def test_a_mix_is_the_whole(total, first, second):
    one, other = mix(q(f"{total} g"), (first, second))
    assert abs(one.value + other.value - total) < D("1e-18")
    assert abs(one.value * second - other.value * first) < D("1e-15")


@pytest.mark.parametrize("parts", [(0, 1), (1, 0), (-1, 2), (2, -1)])
def test_a_mix_has_two_parts(parts):
    with pytest.raises(BadFigures, match=f"^a mix of {parts[0]} to {parts[1]} can't be: both parts are above nought$"):
        mix(q("10 g"), parts)
