"""Every refusal is one clear sentence with its remedy, worded whole."""

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction

import pytest

from benchvoice.errors import BenchvoiceError
from benchvoice.quantity.values import parse_quantity as q
from benchvoice.tighten.joint import named_stages_rise
from benchvoice.tighten.orders import order_of, rows_of
from benchvoice.tighten.preload import Friction, preload_at_yield, torque_for
from benchvoice.tighten.stages import TurnsStage, rising
from benchvoice.tighten.strength import property_class, sae_grade
from benchvoice.tighten.stretch import Section, stiffness
from benchvoice.tighten.threads import metric, parse_thread, unified
from benchvoice.tighten.turns import angle_for, flats
from benchvoice.tighten.wrench import Adapter, Wrench, lever_ratio, number_to_set
from benchvoice.tighten.wrench_class import deviation, permissible_deviation


def wrench(step: str = "0.5", low: str = "10") -> Wrench:
    return Wrench(low=Decimal(low), high=Decimal(50), step=Decimal(step), unit="N_m")


REFUSALS: list[tuple[Callable[[], object], str]] = [
    (
        lambda: order_of("zigzag", ["1"]),
        "no order is called 'zigzag'; say one of in turn, outside last, middle outwards, centre pair first, spiral, "
        "star, or list the positions",
    ),
    (lambda: order_of("in turn", []), "a group without positions has no order; list its positions"),
    (
        lambda: order_of(["1"], ["1", "2", "3"]),
        "the order leaves out 2, 3; every position must come once",
    ),
    (
        lambda: order_of(["1", "8", "9"], ["1"]),
        "the order takes 8, 9, which the group doesn't have; name its positions only",
    ),
    (lambda: order_of(["1", "1"], ["1"]), "the order takes 1 twice; every position must come once"),
    (
        lambda: rows_of(["A1", "A2", "B1"]),
        "the two rows don't have the same columns; list the order instead",
    ),
    (
        lambda: rows_of(["1"]),
        "position '1' is not a row letter and a number; name two rows L1 L2 … R1 R2 …",
    ),
    (lambda: rows_of(["A1"]), "this order needs two rows of positions and there are 1; list the order instead"),
    (lambda: rows_of(["A1", "1a"]), "two positions are both row a, column 1; number each once"),
    (
        lambda: named_stages_rise(["last"]),
        "'last' names no stage; say one of by hand, first, second, third, fourth, fifth, final",
    ),
    (lambda: TurnsStage(turns=Decimal(0)), "a stage by no turns does nothing; give how far, negative to turn back"),
    (
        lambda: rising(65, []),
        "the shares of a final torque rise from above nothing and end at one; correct the list",
    ),
    (lambda: metric(6, 0), "a thread's pitch is above nothing and well below its diameter; correct the size"),
    (lambda: unified(1, 0), "threads per inch are more than nothing; correct the size"),
    (lambda: parse_thread("x"), "'x' is not a thread; write it as M12 x 1.75 or 3/8-16"),
    (lambda: parse_thread("M9"), "'M9' has no coarse pitch; write the pitch, as in M12 x 1.75"),
    (lambda: torque_for(1, 0, 1), "a nut factor and a diameter are more than nothing; correct them"),
    (
        lambda: Friction(thread=-1, head=0, outer=2, inner=1),
        "a coefficient of friction is not less than nothing; correct it",
    ),
    (
        lambda: Friction(thread=0, head=0, outer=1, inner=2),
        "a head bears on a ring: give the hole's diameter, then the larger outer one",
    ),
    (
        lambda: preload_at_yield(0, metric(6, 1), 0),
        "a yield stress, a friction and a share are not less than nothing; correct them",
    ),
    (
        lambda: Section(length=0, area=1),
        "a section of a bolt has a length and an area above nothing; correct it",
    ),
    (lambda: stiffness([], 1), "a bolt has at least one section and a modulus above nothing; give them"),
    (
        lambda: wrench(step="0"),
        "the step of a wrench's scale and its class are more than nothing; correct the wrench",
    ),
    (lambda: wrench(low="60"), "a wrench from 60 to 50 can't be; give its least, then its greatest"),
    (
        lambda: Adapter(length=q("6 N_m"), lever=q("6 mm")),
        "the adapter and the wrench's lever are lengths; give units of length",
    ),
    (
        lambda: lever_ratio(0, 1),
        "the wrench's lever is more than nothing; measure from the middle of the grip to the square",
    ),
    (
        lambda: lever_ratio(1, 1, 180),
        "the adapter reaches back past the grip: no setting gives that torque; turn the adapter",
    ),
    (
        lambda: number_to_set(q("0 N_m"), wrench()),
        "a torque is more than nothing and a drag not less; correct the figure",
    ),
    (lambda: permissible_deviation("I", "A", 0), "a tool's greatest torque is more than nothing; correct it"),
    (
        lambda: permissible_deviation("I", "Z", 1),
        "ISO 6789 has no type I class Z; types are I and II, classes a letter",
    ),
    (lambda: deviation(1, 0), "a reference torque is more than nothing; correct it"),
    (
        lambda: angle_for(1, 1, 0),
        "the stiffness of bolt and joint is more than nothing; leave the joint out if it is rigid",
    ),
    (lambda: angle_for(1, 0, 1), "a pitch is more than nothing; correct it"),
    (lambda: flats(1, "star"), "'star' is not a head; say one of hexagon, square, bihexagon, twelve point"),
    (
        lambda: property_class("8", 10),
        "'8' is not a property class; say one of 4.6, 4.8, 5.6, 5.8, 6.8, 8.8, 9.8, 10.9, 12.9",
    ),
    (lambda: sae_grade("3", 1), "'3' is not an SAE grade; say one of 1, 2, 4, 5, 5.2, 7, 8, 8.2"),
    (
        lambda: sae_grade("8", Fraction(2)),
        "grade 8 isn't made in that size; check the size and the head's marking",
    ),
]


@pytest.mark.parametrize(("make", "said"), REFUSALS, ids=[said[:30] for _, said in REFUSALS])
def test_refusal(make: Callable[[], object], said: str) -> None:
    with pytest.raises(BenchvoiceError) as fault:
        make()
    assert str(fault.value) == said
