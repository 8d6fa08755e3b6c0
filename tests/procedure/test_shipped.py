"""The procedures that ship load without a fault or advice, hold all their steps, and their figures agree."""

from decimal import Decimal
from pathlib import Path
from typing import get_args

import pytest
import yaml

from benchvoice.procedure import source
from benchvoice.procedure.kinds import STAGE_WAYS, Match
from benchvoice.procedure.load import load, load_document
from benchvoice.procedure.models import Band, Measure, Procedure, Step
from benchvoice.procedure.rules.book import parts_of
from benchvoice.procedure.rules.stages import real_adapter, real_wrench
from benchvoice.quantity.computed import COMPUTED
from benchvoice.quantity.gears import change_by_shims
from benchvoice.quantity.values import Quantity, parse_quantity
from benchvoice.quantity.verdict import RuleKind
from benchvoice.tighten.orders import order_of
from benchvoice.tighten.wrench import number_to_set

FOLDER = Path(__file__).parents[2] / "procedures"
SHIPPED = sorted(FOLDER.glob("*.yaml"))

STEPS = [step for path in SHIPPED for step in load(path).steps]
STAGES = [stage for step in STEPS for _, part in parts_of((), step) for stage in part.stages]

BOTTOM_END = """
crank_ground bore_size fitted engine_number parts_laid_out block_down oil_ways bores pistons pin_bores piston_pins
piston_weights rod_weights rod_bolt_weights rods_straight main_journals crank_pins crank_run_out journals_feel
shell_stamps thrust_walls main_tunnels shell_walls caps_off trial_shells
trial_crank main_strips mains_trial mains_slacken main_clearance main_strips_off jets_compound jets plugs_compound
gallery_plugs
final_shells final_crank thrust_halves main_caps_on mains_stage_one mains_stage_two mains_paint mains_stage_three
crank_drag end_float ring_gaps ring_marks rods_on pistons_in rod_strips rods_trial rods_slacken rod_clearance
rod_strips_off big_end_free big_ends crank_turns rod_side_clearance piston_height gasket_notches timing_marks
gear_backlash cam_end_float oil_pump_rotor oil_pump joint_faces bench_temperature bead rear_seal front_cover
ways_clear drain_pipe sump flywheel_compound flywheel flywheel_run_out flywheel_cure sealant_cure right_way_up
"""
VALVE_LASH = """
gasket_from gasket_known piston_height gasket_measured method fitted head_temperature upright stud_holes
studs_in studs_in_plain studs stud_heights stud_heights_plain block_flat head_flat valve_depth chambers gasket_mark
gasket_face gasket_on head_on nuts_on nuts_on_alloy nuts_stage_one nuts_stage_two nuts_stage_three
nuts_stage_three_alloy settle
nuts_again nuts_again_alloy push_rods_rolled push_rods push_rods_in rocker_pillars rocker_float crank_turns lash_nine
lash_two lock_nuts lash_locked lash_second_round counted_out rocker_cover handed_over
hot_cover_off hot_lash hot_cover_on hour_cold hour_cover_off hour_nuts hour_nuts_alloy hour_lash hour_cover_on
"""


@pytest.fixture(scope="module")
def bottom() -> Procedure:
    return load(FOLDER / "launch-bottom-end.yaml")


@pytest.fixture(scope="module")
def lash() -> Procedure:
    return load(FOLDER / "launch-valve-lash.yaml")


@pytest.fixture(scope="module")
def gear() -> Procedure:
    return load(FOLDER / "reduction-gear.yaml")


@pytest.fixture(scope="module")
def pump() -> Procedure:
    return load(FOLDER / "raw-water-pump.yaml")


def step(procedure: Procedure, name: str) -> Step:
    return next(each for each in procedure.steps if each.step == name)


def band(procedure: Procedure, name: str, key: str = "new", computed: str | None = None) -> Band:
    measure = step(procedure, name).measure
    assert measure is not None
    limits = measure.computed[computed].limits if computed else measure.limits
    assert limits is not None
    return limits.bands[key]


def less(one: Band, *others: Band) -> tuple[Decimal, Decimal]:
    """The least and most of a difference: all its parts are between two ends."""
    low, high = one
    assert low is not None
    assert high is not None
    for least, most in others:
        assert least is not None
        assert most is not None
        low, high = low - most, high - least
    return low, high


def inches(low: str, high: str) -> tuple[Decimal, Decimal]:
    return Decimal(low), Decimal(high)


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_there_is_nothing_to_say_of_them(path: Path) -> None:
    assert load_document(path).advice == ()


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_they_load_without_the_c_parser_too(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with_c = load(path)
    monkeypatch.setattr(source, "_LOADER", yaml.SafeLoader)
    assert load(path) == with_c


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_every_step_has_a_title_of_its_own(path: Path) -> None:
    steps = load(path).steps
    assert all(each.title for each in steps)
    by_option = [each.title for each in steps if not each.when and not each.unless]
    assert len(set(by_option)) == len(by_option)


def test_they_hold_all_their_steps(bottom: Procedure, lash: Procedure) -> None:
    assert [each.step for each in bottom.steps] == BOTTOM_END.split()
    assert [each.step for each in lash.steps] == VALVE_LASH.split()


def test_figures_keep_their_decimals(bottom: Procedure) -> None:
    assert str(band(bottom, "main_clearance")[1]) == "3.0"
    assert str(band(bottom, "main_journals", "standard")[0]) == "2.1250"


# The parts of a fit add up to its limits. Parts that no step measures are said at the head of the document.

TUNNEL, EYE = inches("2.2704", "2.2710"), inches("2.0005", "2.0010")
MAIN_SHELLS = {
    "standard": inches("0.0715", "0.0717"),
    "first undersize": inches("0.0765", "0.0767"),
    "second undersize": inches("0.0815", "0.0817"),
}
ROD_SHELLS = {
    "standard": inches("0.06190", "0.06215"),
    "first undersize": inches("0.06690", "0.06715"),
    "second undersize": inches("0.07190", "0.07215"),
}


@pytest.mark.parametrize("size", MAIN_SHELLS)
def test_oil_clearances_are_what_their_parts_leave(bottom: Procedure, size: str) -> None:
    thou = Decimal(1000)
    shell = MAIN_SHELLS[size]
    low, high = less(TUNNEL, shell, shell, band(bottom, "main_journals", size))
    assert (low * thou, high * thou) == band(bottom, "main_clearance")
    shell = ROD_SHELLS[size]
    low, high = less(EYE, shell, shell, band(bottom, "crank_pins", size))
    assert (low * thou, high * thou) == band(bottom, "rod_clearance")


@pytest.mark.parametrize("size", MAIN_SHELLS)
def test_used_shells_may_be_worn_by_the_thou_between_new_and_used(bottom: Procedure, size: str) -> None:
    wear = Decimal("0.0005")
    low, high = MAIN_SHELLS[size]
    assert band(bottom, "shell_walls", size) == (low - wear, high)
    assert band(bottom, "main_tunnels") == TUNNEL
    used = band(bottom, "main_clearance", "used")
    assert used == band(bottom, "shell_walls", computed="clearance_by_parts")
    assert used[1] == band(bottom, "main_clearance")[1] + 2 * 1000 * wear


def test_end_float_is_what_its_parts_leave(bottom: Procedure) -> None:
    washer = band(bottom, "thrust_walls")
    assert washer == inches("0.0910", "0.0920")
    low, high = less(inches("1.3770", "1.3780"), inches("1.1880", "1.1890"), washer, washer)
    assert (low * 1000, high * 1000) == band(bottom, "end_float", computed="mean_float")


def test_any_piston_pin_goes_into_any_piston(bottom: Procedure) -> None:
    """A tenth at least, six at most: a floating pin of 27 mm (invented, by common practice)."""
    low, high = less(band(bottom, "pin_bores"), band(bottom, "piston_pins"))
    assert (low * 1000, high * 1000) == (Decimal("0.1"), Decimal("0.6"))


@pytest.mark.parametrize("size", ["standard", "thirty over", "sixty over"])
def test_piston_clearance_is_bore_less_skirt(bottom: Procedure, size: str) -> None:
    measure = step(bottom, "bores").measure
    assert measure is not None
    assert measure.master is not None
    assert isinstance(measure.master.size, dict)
    ring = measure.master.size[size].value
    deviation = band(bottom, "bores")
    assert deviation[0] is not None
    assert deviation[1] is not None
    bore = (ring + deviation[0] / 1000, ring + deviation[1] / 1000)
    low, high = less(bore, band(bottom, "pistons", size))
    assert (low * 1000, high * 1000) == band(bottom, "pistons", computed="least_clearance")


def test_the_bands_of_the_gasket_meet_over_the_whole_height(bottom: Procedure, lash: Procedure) -> None:
    for procedure, name in ((bottom, "gasket_notches"), (lash, "gasket_measured")):
        choose = step(procedure, name).choose
        assert choose is not None
        ends = [end for each in choose.bands.values() for end in each]
        assert (ends[0], ends[-1]) == band(procedure, "piston_height")
        assert ends[1:-1:2] == ends[2:-1:2]


def test_the_crowfoot_on_the_sump(bottom: Procedure) -> None:
    # Statics: 9 x 220 / (220 + 60) = 7.07, 7.0 at the wrench's half steps.
    part = step(bottom, "sump").tighten
    assert part is not None
    corner = part.also[0]
    torque = corner.stages[-1].torque
    assert torque is not None
    setting = number_to_set(torque, real_wrench(bottom, "small"), adapter=real_adapter(corner))
    assert str(setting.mark) == "7.0"


def test_the_caps_go_centre_pair_first(bottom: Procedure) -> None:
    group = bottom.groups["main_caps"]
    assert order_of(group.order, group.positions)[:2] == ("3L", "3R")


def test_the_long_stud_is_number_eight(lash: Procedure) -> None:
    group = lash.groups["studs"]
    order = order_of(group.order, group.positions)
    assert [order.index(name) + 1 for name in group.takes] == [8]
    assert lash.groups["head_nuts"].order == group.order


EXHAUST_FULLY_DOWN = {"one": 250, "four": 70, "five": 430, "eight": 610}
INLET_FULLY_DOWN = {"two": 470, "three": 290, "six": 650, "seven": 110}
"""Degrees of crank after number one fires at which each valve is fully down, firing order 1-3-4-2."""
NUMBERS = ("one", "two", "three", "four", "five", "six", "seven", "eight")


def test_the_rule_of_nine_goes_round_once_as_the_engine_turns(lash: Procedure) -> None:
    measure = step(lash, "lash_nine").measure
    assert measure is not None
    assert isinstance(measure.before_each, dict)
    down = []
    for valve in measure.order:
        partner = NUMBERS[8 - 1 - NUMBERS.index(valve)]  # valve and partner sum to nine
        assert measure.before_each[valve] == f"Turn until {partner} is fully down."
        down.append({**EXHAUST_FULLY_DOWN, **INLET_FULLY_DOWN}[partner])
    from_first = [(angle - down[0]) % 720 for angle in down]
    assert from_first == sorted(from_first)


@pytest.mark.parametrize("name", ["lash_nine", "lash_two", "lash_locked", "lash_second_round"])
def test_cold_lash_by_inlet_and_exhaust(lash: Procedure, name: str) -> None:
    measure = step(lash, name).measure
    assert measure is not None
    assert measure.limits is not None
    for valve in NUMBERS:
        found = measure.limits.bands.get(valve, measure.limits.bands["other"])
        assert found == ((9, 11) if valve in INLET_FULLY_DOWN else (13, 15))


def test_the_pinion_shim_is_what_its_parts_leave(gear: Procedure) -> None:
    low, high = less(band(gear, "housing_depth"), band(gear, "bearing_stack"), (Decimal("91.90"), Decimal("92.10")))
    assert (low, high) == (Decimal("1.10"), Decimal("1.60"))
    assert band(gear, "bearing_stack", computed="pinion_shim") == (low, high)
    assert sum(gear.stock["shims"].sizes.values()) == 14


def test_the_pump_fits_are_what_their_parts_leave(pump: Procedure) -> None:
    gasket = Decimal("0.25")
    low, high = less(band(pump, "body_depth"), band(pump, "impeller_width"))
    assert (low + gasket, high + gasket) == band(pump, "impeller_width", computed="end_clearance")
    assert less(band(pump, "seal_free"), band(pump, "seal_room")) == band(pump, "seal_room", computed="squeeze")
    assert less(band(pump, "shaft_seats"), band(pump, "inner_races")) == band(pump, "shaft_seats", computed="press")


def test_every_kind_of_computed_value_is_used() -> None:
    """By a computed value of a measure step; a stage by stretch takes the free length from the tight one."""
    computed = {each.kind for step in STEPS if step.measure for each in step.measure.computed.values()}
    by_stages = {"stretch" for stage in STAGES if stage.free is not None}
    assert computed | by_stages == set(COMPUTED)


def test_every_way_of_a_stage_is_used() -> None:
    assert {stage.way for stage in STAGES} == set(STAGE_WAYS)


def test_every_decision_rule_is_used() -> None:
    """Simple acceptance goes without saying."""
    measures = [step.measure for step in STEPS if step.measure is not None]
    rules = {measure.rule for measure in measures} | {
        each.rule for measure in measures for each in measure.computed.values()
    }
    assert {rule.kind for rule in rules if rule is not None} == set(RuleKind) - {RuleKind.SIMPLE}
    assert None in rules


def test_every_way_of_matching_is_used_and_said_again_where_the_parts_go_in() -> None:
    matched = {each.step: each.measure.match.how for each in STEPS if each.measure is not None and each.measure.match}
    assert set(matched.values()) == set(get_args(Match.model_fields["how"].annotation))
    assert set(matched) <= {name for each in STEPS for name in each.recalls}


def test_packs_leaves_and_fits_are_used(bottom: Procedure, lash: Procedure, gear: Procedure) -> None:
    def measure(procedure: Procedure, name: str) -> Measure:
        found = step(procedure, name).measure
        assert found is not None
        return found

    assert measure(gear, "end_play").computed["both_packs"].packs == ("left pack", "right pack")
    assert measure(bottom, "end_float").computed["over_thick"].stock == "thrust_halves"
    assert bottom.instruments["feelers"].leaves == lash.instruments["feelers"].leaves
    seat = measure(gear, "pinion_seat").limits
    assert seat is not None
    assert (seat.fit, seat.bands["new"]) == ("30 k6", (Decimal("30.002"), Decimal("30.015")))
    nuts = step(lash, "lock_nuts").tighten
    assert nuts is not None
    assert nuts.each_read == "lash_locked"


def test_the_change_of_the_backlash_is_what_the_cone_gives(gear: Procedure) -> None:
    """Moving 0.05 changes it by 0.033: 2 x 0.05 x tan 20 deg x sin 64.7 deg."""
    measure = step(gear, "backlash").measure
    assert measure is not None
    assert measure.out is not None
    assert measure.out.shift is not None
    whole = change_by_shims(Quantity(value=Decimal(1), unit="mm"), 20, Decimal("64.7"))
    assert round(whole.value, 3) == measure.out.shift.change


def test_compression_of_the_engine_is_what_its_volumes_give(lash: Procedure) -> None:
    """Swept 361.3 cc (scenario, 74.00 x 84.00 mm); chamber 12.9 to 13.5 cc and 39 thou over the piston."""
    swept = COMPUTED["swept_volume"](bore=(_q("2.913 in"),), stroke=(_q("3.307 in"),))
    assert abs(swept.value - Decimal("361.3")) < Decimal("0.2")
    over = COMPUTED["disc_volume"](diameter=(_q("2.913 in"),), height=(_q("39 thou"),))
    low, high = band(lash, "chambers", computed="compression")
    for chamber in band(lash, "chambers"):
        found = COMPUTED["compression_ratio"](swept=(swept,), clearance=(_q(f"{chamber} cc"), over)).value
        assert low is not None
        assert high is not None
        assert low <= found <= high


def _q(text: str) -> Quantity:
    return parse_quantity(text)
