"""Amounts said roughly."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.speech.about import say_about

D = Decimal


@pytest.mark.parametrize(
    ("amount", "unit", "words"),
    [
        ("0.33", "thou", "a third of a thou"),
        ("0.3", "thou", "a third of a thou"),
        ("0.578", "thou", "zero point six thou"),
        ("0.53", "thou", "half a thou"),
        ("0.25", "thou", "a quarter of a thou"),
        ("0.722", "thou", "three quarters of a thou"),
        ("0.1", "thou", "a tenth of a thou"),
        ("0.04", "thou", "zero point zero four thou"),
        ("1", "thou", "one thou"),
        ("1.42", "thou", "one point four thou"),
        ("2.3", "thou", "two thou"),
        ("0.0001", "in", "a tenth of a thou"),
        ("0.0058", "mm", "six microns"),
        ("0.0129", "mm", "thirteen microns"),
        ("0.5", "mm", "zero point five millimetres"),
        ("0.1", "mm", "zero point one millimetres"),
        ("0.5", "tenth", "half a tenth"),
        ("0.25", "tenth", "a quarter of a tenth"),
        ("0.124", "deg", "zero point one two degrees"),
        ("0.0996", "deg", "zero point one degrees"),
        ("19.8", "deg", "twenty degrees"),
        ("130", "deg", "one hundred and thirty degrees"),
        ("1", "degC", "one degree celsius"),
        ("1.2", "N_m", "one point two newton metres"),
    ],
)
def test_said(amount, unit, words):
    assert say_about(D(amount), unit) == words


@given(st.decimals(places=4, min_value=D("0.0001"), max_value=500), st.sampled_from(["thou", "in", "mm", "N_m", "g"]))
def test_every_amount_can_be_said(amount, unit):
    assert say_about(amount, unit)
