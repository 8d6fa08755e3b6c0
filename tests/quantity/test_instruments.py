from datetime import date
from decimal import Decimal

import pytest

from benchvoice.quantity.instruments import (
    BadInstrument,
    Due,
    Instrument,
    Register,
    due_date,
    expanded_uncertainty,
    objections,
)
from benchvoice.quantity.units import UnknownUnit, WrongKind

D = Decimal
TODAY = date(2026, 11, 25)


def wrench(**other):
    figures = {
        "id": "W1",
        "kind": "torque wrench",
        "unit": "N_m",
        "low": D(10),
        "high": D(50),
        "resolution": D("0.5"),
        "uncertainty": D("1.2"),
    }
    return Instrument(**{**figures, **other})


@pytest.mark.parametrize(
    ("due", "calibrated", "when"),
    [
        (Due(), None, None),
        (Due(by=date(2027, 3, 1)), None, date(2027, 3, 1)),
        (Due(days=365), date(2026, 1, 1), date(2027, 1, 1)),
        (Due(by=date(2026, 6, 1), days=365), date(2026, 1, 1), date(2026, 6, 1)),
        (Due(by=date(2028, 6, 1), days=365), date(2026, 1, 1), date(2027, 1, 1)),
        (Due(uses=5000), date(2026, 1, 1), None),
    ],
)
def test_due_date(due, calibrated, when):
    assert due_date(wrench(due=due, calibrated=calibrated)) == when


def test_an_instrument_in_order_needs_no_override():
    assert objections(wrench(), on=TODAY) == []
    assert objections(wrench(due=Due(by=TODAY)), on=TODAY, value=D(50)) == []  # the day itself is in time
    assert objections(wrench(due=Due(uses=100)), on=TODAY, uses=99, value=D(10)) == []
    assert objections(wrench(low=None, high=None), on=TODAY, value=D(9999)) == []


def test_overdue_by_date_and_by_uses():
    old = wrench(due=Due(by=date(2026, 11, 24), uses=5000))
    assert objections(old, on=TODAY) == ["calibration was due on 2026-11-24"]
    assert objections(old, on=TODAY, uses=5000) == [
        "calibration was due on 2026-11-24",
        "calibration was due after 5000 uses",
    ]


def test_outside_its_range():
    assert objections(wrench(), on=TODAY, value=D(9)) == ["below its range, which starts at 10 N_m"]
    assert objections(wrench(), on=TODAY, value=D("50.1")) == ["above its range, which ends at 50 N_m"]
    assert objections(wrench(), on=TODAY, value=D(7), unit="ft_lb") == ["below its range, which starts at 10 N_m"]
    assert objections(wrench(), on=TODAY, value=D(8), unit="ft_lb") == []
    assert objections(wrench(high=None), on=TODAY, value=D(5000)) == []
    assert objections(wrench(low=None), on=TODAY, value=D(1)) == []


def test_what_it_cannot_measure_at_all():
    with pytest.raises(WrongKind):
        objections(wrench(), on=TODAY, value=D(20), unit="mm")


# Computed: GUM. The stated uncertainty holds the instrument's own step; a coarser reading adds its own.
def test_expanded_uncertainty():
    assert expanded_uncertainty(wrench()) == D("1.2")
    assert expanded_uncertainty(wrench(), read_to=D("0.5")) == D("1.2")
    assert expanded_uncertainty(wrench(), read_to=D("0.1")) == D("1.2")
    coarse = expanded_uncertainty(wrench(), read_to=D(1))
    assert coarse is not None
    assert abs(coarse - 2 * (D("0.36") + 1 / D(12)).sqrt()) < D("1e-9")
    assert expanded_uncertainty(wrench(uncertainty=None)) is None
    assert expanded_uncertainty(wrench(uncertainty=D(0)), read_to=D("0.5")) == 0


@pytest.mark.parametrize(
    ("other", "words"),
    [
        ({"resolution": D(0)}, "W1: a resolution of 0 is not above nought"),
        ({"resolution": D(-1)}, "W1: a resolution of -1 is not above nought"),
        ({"uncertainty": D(-1)}, "W1: an uncertainty of -1 is below nought"),
        ({"low": D(50), "high": D(10)}, "W1: a range from 50 to 10 holds nothing: swap them"),
        ({"low": D(50)}, "W1: a range from 50 to 50 holds nothing: swap them"),
        ({"due": Due(days=365)}, "W1: due so many days after its calibration, which has no date: give one"),
    ],
)
def test_instruments_that_cannot_be(other, words):
    with pytest.raises(BadInstrument) as fault:
        wrench(**other)
    assert str(fault.value) == words


def test_unknown_unit():
    with pytest.raises(UnknownUnit):
        wrench(unit="Nm")


def test_register():
    register = Register.of(wrench(), wrench(id="W2", due=Due(by=date(2026, 1, 1))), wrench(id="W3", due=Due(uses=10)))
    assert register["W2"].id == "W2"
    assert [one.id for one in register] == ["W1", "W2", "W3"]
    assert [one.id for one in register.overdue(TODAY)] == ["W2"]
    assert [one.id for one in register.overdue(TODAY, {"W3": 10})] == ["W2", "W3"]
    with pytest.raises(BadInstrument, match="no instrument 'W9' is in the register: its ids are W1, W2, W3"):
        register["W9"]
    with pytest.raises(BadInstrument, match="no instrument 'W9' is in the register: its ids are none"):
        Register.of()["W9"]
    with pytest.raises(BadInstrument, match="two instruments are called W1: give each its own id"):
        Register.of(wrench(), wrench())


def test_uses_count_from_none():
    new = wrench(due=Due(uses=1))
    assert objections(new, on=TODAY) == []
    assert Register.of(new).overdue(TODAY) == []
    assert objections(new, on=TODAY, uses=1) == ["calibration was due after 1 uses"]


def test_coarse_uncertainty_is_given_to_ten_places():
    coarse = expanded_uncertainty(wrench(), read_to=D(1))
    assert coarse is not None
    assert coarse.as_tuple().exponent == -10
