import json
import re
import shlex
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchvoice.app.reckoning import RECKONINGS, BadReckoning, listing, reckon
from benchvoice.app.reckoning.model import shown, tidy
from benchvoice.quantity.computed import COMPUTED
from benchvoice.quantity.limits import Limits
from benchvoice.quantity.values import parse_quantity as q


def call(line):
    name, *parts = shlex.split(line)
    return reckon(name, dict(part.split("=", 1) for part in parts))


def results(line):
    return call(line)["results"]


def refusal(line):
    with pytest.raises(BadReckoning) as fault:
        call(line)
    assert "\n" not in str(fault.value)
    return str(fault.value)


def test_the_number_to_set_with_a_crowfoot():
    assert call("adapter torque=30ft_lb lever=12in adapter=6in angle=0deg") == {
        "name": "adapter",
        "inputs": {"torque": "30ft_lb", "lever": "12in", "adapter": "6in", "angle": "0deg"},
        "results": {"set": {"value": "20", "unit": "ft_lb"}},
        "formula": "set = torque x L / (L + E cos a)",
        "source": "statics of the lever, the hand in the middle of the grip",
    }
    # The shipped bottom end's rear corner bolts: 9 N m, a 60 mm crowfoot in line on 220 mm, is 7.07.
    assert results("adapter torque=9N_m lever=220mm adapter=60mm")["set"]["value"] == "7.071429"
    assert results("adapter torque=30ft_lb lever=12in adapter=6in angle=90deg")["set"]["value"] == "30"


# One for each, from the shipped procedures and the published values.
@pytest.mark.parametrize(
    ("line", "name", "wanted"),
    [
        ("adapter_torque set=20ft_lb lever=12in adapter=6in", "torque", "30 ft_lb"),
        ("drag_torque torque=30N_m drag=4N_m", "set", "34 N_m"),
        ("wrench_range torque=65N_m capacity=200N_m", "in_usable_range", True),
        ("wrench_range torque=39N_m capacity=200N_m", "in_usable_range", False),
        ("wrench_deviation shown=100N_m reference=80N_m", "deviation", "25 percent"),
        ("bolt_torque load=25000N factor=0.2 diameter=10mm", "torque", "50 N_m"),
        ("bolt_torque load=1000lbf factor=0.2 diameter=0.5in", "torque", "8.333333 ft_lb"),
        ("bolt_preload torque=50N_m factor=0.2 diameter=10mm", "load", "25000 N"),
        ("thread size='M10 x 1.5'", "stress_area", "57.98959 mm2"),
        ("proof_load size=M10 strength=10.9", "proof_load", "48140 N"),
        ("bolt_stretch load=20000N length=48mm area=58mm2", "stretch", "0.08074012 mm"),
        ("bolt_load stretched=0.15mm length=48mm area=58mm2", "load", "37156.25 N"),
        ("nut_angle load=25275N pitch=1.5mm bolt=199133N_per_mm", "angle", "30.46205 deg"),
        (
            "angle_load angle=90deg pitch=1.5mm bolt=199133N_per_mm joint=800000N_per_mm snug=5000N",
            "load",
            "64791.74 N",
        ),
        ("order pattern=star positions=1,2,3,4", "order", ["1", "3", "2", "4"]),
        ("convert value=4.5thou to=mm", "converted", "0.1143 mm"),
        ("convert value=180delta_degF to=delta_K", "converted", "100 delta_K"),
        ("round value=12.25mm step=0.1", "rounded", "12.2 mm"),
        ("round value=12.25mm step=0.1 tie=B", "rounded", "12.3 mm"),
        ("round_limits low=37N_m high=43N_m to=ft_lb step=1", "low", "28 ft_lb"),
        ("resolution resolution=0.001in to=mm", "resolution", "0.01 mm"),
        ("paired first=37N_m first_place=1 second=28ft_lb second_place=1", "agree", False),
        ("verdict reading=2.25thou low=1.5thou high=3.0thou", "verdict", "in limits"),
        ("verdict reading=3.5thou low=1.5thou high=3.0thou", "by", "0.5 thou"),
        ("verdict reading=0.0762mm high=3thou", "verdict", "in limits"),
        (
            "verdict reading=2.9thou high=3thou uncertain=0.2thou rule='guarded acceptance'",
            "verdict",
            "too close to call",
        ),
        (
            "verdict reading=29degC low=50degF high=86degF uncertain=2delta_degC rule='guarded acceptance'",
            "verdict",
            "too close to call",
        ),
        ("probability reading=95.402mm u=0.0015mm low=95.400mm high=95.420mm", "probability", "0.9087888"),
        ("too_coarse resolution=0.1mm low=95.38mm high=95.42mm", "too_coarse", True),
        ("too_coarse resolution=0.01mm low=95.38mm high=95.42mm share=1/3", "too_coarse", False),
        ("capability low=60N_m high=70N_m u=1.25N_m", "index", "2"),
        ("uncertainty value=0.0024mm kind=certificate", "u", "0.0012 mm"),
        ("combine parts=0.003,0.004mm", "expanded", "0.01 mm"),
        ("combine parts=3um,0.004mm", "u", "5 um"),
        ("repeats readings=79.98,79.99,80.00,79.99mm", "u_mean", "0.004082483 mm"),
        ("report value=95.40347mm expanded=0.003124mm", "value", "95.4035 mm"),
        ("coverage p=0.95 freedom=10", "k", "2.228139"),
        # Scenario: M9 x 1.0 10.9 over 48 mm, 6.0 thou is 78 per cent of 830 MPa x 51.0 mm2.
        ("clamp_stretch stretched=6.0thou size=M9x1.0 strength=10.9 grip=48mm", "proof", "42330 N"),
        ("clamp_stretch stretched=6.0thou size=M9x1.0 strength=10.9 grip=48mm", "likely", "33194.625 N"),
        (
            "clamp_angle angle=20deg snug=60N_m condition=oiled size='M12 x 1.75' strength=10.9 grip=60mm shank=30mm",
            "likely",
            "63337.57 N",
        ),
        (
            "clamp_angle angle=90deg snug=60N_m condition=oiled size=M12 strength=10.9 grip=60mm joint=800000N_per_mm",
            "advice",
            "About 76 kilonewtons, where it yields, 15 percent either way: "
            "90 to 125 percent of proof load, which may be past it.",
        ),
        ("clearance_least bore=2.9131,2.9135in shaft=2.9085,2.9087in", "clearance_least", "0.0044 in"),
        ("net plus=111.38mm minus=18.04,92.05mm", "net", "1.29 mm"),
        ("vee_factor lobes=3 angle=60deg", "factor", "3"),
        ("vee_size change=0.010mm angle=60deg", "moved", "0.015 mm"),
        ("dial turns=2 hand=0.43mm per_turn=1mm", "value", "2.43 mm"),
        ("dial turns=2 hand=0.43mm per_turn=1mm zero=0.02mm", "value", "2.41 mm"),
        ("bore_gauge setting=86.00mm dial=0.02mm sense='plus is smaller'", "size", "85.98 mm"),
        ("micrometer sleeve=12.5mm thimble=0.34mm vernier=0.006mm", "size", "12.846 mm"),
        ("vernier main=23mm line=17 resolution=0.02mm", "size", "23.34 mm"),
        ("ring_correction reading=50.013mm certified=50.0012mm zeroed_to=50mm", "corrected", "50.0142 mm"),
        ("drift before=0mm after=0.02mm allowed=0.01mm", "repeat", True),
        ("fit nominal=25mm fit=H7/g6", "hole", {"low": "25.000", "high": "25.021", "unit": "mm"}),
        ("fit nominal=25mm fit=H7/g6", "clearance_most", "41 um"),
        ("fit nominal=1in fit=H7/g6", "fit", "clearance"),
        ("tolerance size=25mm grade=IT7", "tolerance", "21 um"),
        (
            "shim fitted=2.00mm play=0.28mm low=0.05mm high=0.15mm stock=2.10,2.15,2.20mm",
            "shims",
            [{"value": "2.20", "unit": "mm"}],
        ),
        ("preload_shim gap=1.42mm preload=0.05mm", "shim", "1.47 mm"),
        ("clearance_shim depth=23.46mm width=21.98mm clearance=0.05mm", "shim", "1.43 mm"),
        (
            "pack stock=1.00x2,0.50x3,0.30x3,0.15x1,0.10x5mm low=1.27mm high=1.31mm",
            "packs",
            [
                ["1.00", "0.30"],
                ["0.50", "0.50", "0.30"],
                ["1.00", "0.10", "0.10", "0.10"],
                ["0.50", "0.50", "0.10", "0.10", "0.10"],
                ["0.50", "0.30", "0.30", "0.10", "0.10"],
            ],
        ),
        ("pack stock='0.5x1, 0.3 mm' low=0.3mm high=0.5mm aim=0.5mm", "total", "0.5 mm"),
        ("two_packs stock=1.00x1,0.50x3,0.30x2,0.15x1,0.10x5mm low=1.65mm high=1.65mm left=0.75mm", "ways", 5),
        ("lash_shim old=2.80mm measured=0.12mm low=0.15mm high=0.25mm step=0.05mm", "shim", "2.70 mm"),
        ("lash_screw change=0.10mm ratio=1.5 pitch=1mm", "turn", "0.06666667 turn"),
        ("cold_lash hot=0.20mm growth=0.05mm", "cold", "0.25 mm"),
        (
            "leaves want=0.35mm leaves=0.05,0.10,0.15,0.20,0.25,0.30mm",
            "stacks",
            [["0.05", "0.30"], ["0.10", "0.25"], ["0.15", "0.20"]],
        ),
        ("gap goes=0.15mm wont=0.20mm", "middle", "0.175 mm"),
        ("match_pairs parts=411.5,412.2,411.9,412.8g", "pairs", [[[1, 3], [2, 4]]]),
        ("match_totals first=411.5,412.2,411.9,412.8g second=585.0,584.2,586.1,585.3g", "partners", [[3, 1, 4, 2]]),
        ("match_clearances bores=86.012,86.020mm shafts=85.970,85.962mm", "partners", [[2, 1]]),
        ("match_banks parts=411.5,412.2,411.9,412.8g", "first_bank", [[1, 4]]),
        ("ring_gap bore=4.000in factor=0.0035", "gap", "0.014 in"),
        ("ring_gap_growth wear=0.05mm", "growth", "0.1570796 mm"),
        (
            "compression bore=2.913in stroke=3.307in chamber=15cc gasket_bore=75mm gasket_thickness=51thou "
            "below_deck=-12thou dish=0cc cylinders=4",
            "displacement",
            "1444.662 cc",
        ),
        ("disc_volume diameter=86.0mm height=0.25mm", "volume", "1.452201 cc"),
        ("clearance_volume swept=499.56cc ratio=10.5", "clearance", "52.58526 cc"),
        ("piston_speed stroke=86.0mm speed=6000rpm", "mean_speed", "17.2 m_s"),
        ("piston_speed stroke=3.48in speed=6500rpm", "mean_speed", "3770 ft_min"),
        ("piston_drop stroke=86.0mm rod=143mm angle=28deg", "drop", "6.465341 mm"),
        ("rim_distance diameter=150mm angle=10deg", "distance", "13.08997 mm"),
        ("top_dead_centre before=-38deg after=34deg", "top_dead_centre", "-2 deg"),
        ("even_compression pressures=10.9,8.0,11.2,10.8bar", "even", False),
        ("leakage supply=100psi holds=88psi", "leakage", "12 percent"),
        ("growth length=100mm warm=95degC material=aluminium", "growth", "0.1725 mm"),
        ("growth length=100mm cold=68degF warm=95degC alpha=0.000023per_K", "growth", "0.1725 mm"),
        ("at_20_degrees reading=95.412mm temperature=31degC material=aluminium", "at_20_degrees", "95.38787 mm"),
        (
            "clearance_at bore=86mm bore_of='cast iron' shaft=85.96mm shaft_of=aluminium temperature=120degC",
            "clearance",
            "-0.067408 mm",
        ),
        ("heat_to interference=0.015mm room=0.0102mm diameter=30mm alpha=0.000012per_K", "heat_to", "90 degC"),
        ("backlash reading=0.28mm at=67.5mm to=54mm", "backlash", "0.224 mm"),
        ("backlash_by_centres apart=0.10mm", "change", "0.07279405 mm"),
        ("backlash_by_shims moved=0.05mm cone=64.7deg", "change", "0.03290591 mm"),
        ("round_the_gear readings=0.14,0.17,0.19,0.15mm", "variation", "0.05 mm"),
        ("gear_ratio stages=18:32,20:30", "ratio", "2.666667"),
        ("meshing driver=17 driven=36", "turns_to_meet_again", 36),
        ("balance_grade grade=6.3mm_s speed=10000rpm mass=2kg", "unbalance", "12.03211 g_mm"),
        ("balance_correction mass=3.2g radius=110mm at=95mm", "correction", "3.705263 g"),
        ("balance_split mass=4g at=30deg first=0deg second=60deg", "at_first", "2.309401 g"),
        ("balance_drill mass=5g drill=10mm density=7.85g_cc", "depth", "8.109806 mm"),
        ("cylinder_force pressure=160bar bore=63mm rod=36mm", "pull", "33.58991 kN"),
        ("pump_flow displacement=16cc_rev speed=1450rpm efficiency=0.92", "flow", "21.344 L_min"),
        ("cord_torque pull=20N radius=40mm", "torque", "0.8 N_m"),
        ("mix total=110g first=10 second=1", "second", "10 g"),
        ("window age=481s closes=8min", "state", "too late"),
        ("window age=1h opens=2h", "state", "too early"),
        ("window age=7min closes=8min", "remaining", "60 s"),
        ("window age=3h opens=2h", "remaining", None),
        ("pace temperature=30degC", "factor", "0.5"),
    ],
)
def test_results(line, name, wanted):
    found = results(line)[name]
    if isinstance(found, dict) and "value" in found:
        found = f"{found['value']} {found['unit']}"
    assert found == wanted


def test_clamp_advice_is_a_sentence():
    found = results("clamp torque=65N_m size='M10 x 1.5' strength=10.9 condition=oiled")
    assert found["likely"] == {"value": "40625", "unit": "N"}
    assert found["advice"].endswith(".")


def test_cylinder_without_a_rod_pushes_only():
    assert set(results("cylinder_force pressure=160bar bore=63mm")) == {"push"}


def test_cautions_are_told():
    assert "vee block" in call("out_of_round of=59.982,59.976mm")["caution"]
    assert "caution" not in call("convert value=1in to=mm")


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("adaptor torque=30ft_lb", "there is no reckoning 'adaptor': did you mean 'adapter'?"),
        ("weather", "there is no reckoning 'weather': 'reckon --list' names them all"),
        (
            "adapter torque=30ft_lb lever=12in",
            "adapter needs adapter (the adapter, from square to fastener): write adapter=6in",
        ),
        (
            "adapter torque=30ft_lb length=12in",
            "adapter has no input 'length': its inputs are torque, lever, adapter, angle",
        ),
        (
            "adapter torque=30in lever=12in adapter=6in",
            "adapter: torque=30in: in is a length: give a unit of torque, such as N_m",
        ),
        (
            "adapter torque=30 lever=12in adapter=6in",
            "adapter: torque=30: it has no unit: give a unit of torque, such as N_m",
        ),
        (
            "adapter torque=lots lever=12in adapter=6in",
            "adapter: torque=lots: 'lots' is not a number with a unit: write it like '25 N_m', '1.5 thou' or '0.1'",
        ),
        ("adapter torque=30Nm lever=12in adapter=6in", "adapter: torque=30Nm: 'Nm' is not a unit: did you mean 'N_m'?"),
        (
            "adapter torque=30ft_lb lever=0in adapter=6in",
            "adapter: the wrench's lever is more than nothing; measure from the middle of the grip to the square",
        ),
        ("meshing driver=3.5 driven=36", "meshing: driver=3.5: it is not a whole number: write digits alone"),
        ("meshing driver=-3 driven=36", "meshing: driver=-3: it is not a whole number: write digits alone"),
        ("gear_ratio stages=18-32", "gear_ratio: stages=18-32: '18-32' is not a pair: write it like 18:32"),
        ("round value=1mm step=0.1mm", "round: step=0.1mm: mm is a length: give no unit"),
        ("round value=1mm step=0.1 tie=C", "round: tie=C: it is none of A, B: give one of them"),
        ("round value=1mm step=0", "round: a rounding range of 0 is not above nought"),
        ("verdict reading=1mm", "verdict: a reading is judged against limits: give low, high or both"),
        ("probability reading=1mm u=0mm high=2mm", "probability: an uncertainty is above nought: give one"),
        (
            "pack stock=0.5x1 low=1mm high=2mm",
            "pack: stock=0.5x1: a tray needs a unit of length: give it at the end, such as 0.50x3,0.10mm",
        ),
        (
            "pack stock=0.5x1g low=1mm high=2mm",
            "pack: stock=0.5x1g: a tray needs a unit of length: give it at the end, such as 0.50x3,0.10mm",
        ),
        (
            "pack stock=0.5y1mm low=1mm high=2mm",
            "pack: stock=0.5y1mm: '0.5y1' is not a thickness and a number: write it like 0.50x3",
        ),
        (
            "pack stock=0.5x1mm low=1mm high=2mm",
            "pack: no pack from this tray makes it: look for more stock or wider limits",
        ),
        (
            "two_packs stock=0.5x1mm low=1mm high=2mm left=0.5mm",
            "two_packs: no two packs from this tray make it: look for more stock or wider limits",
        ),
        ("growth length=1mm warm=30degC", "growth: give the material by name, or its expansion as alpha"),
        (
            "clamp torque=65N_m size=M10 strength=10.9 condition=wet",
            "clamp: 'wet' is not a condition of a thread: give one of dry, plated, locking compound, oiled, greased, "
            "copper grease, moly grease",
        ),
        ("window age=5min", "window: a window opens or closes: give opens, closes or both"),
        (
            "too_coarse resolution=1mm low=1mm high=2mm share=1/0",
            "too_coarse: share=1/0: '1/0' has no end as a decimal: write it as a decimal, rounded as you mean it",
        ),
        ("difference of=1mm,2mm less=1mm", "difference: difference needs 1 for of: 2 given"),
        ("convert value=5 to=mm", "convert: 5 has no unit: give it one of length, such as in"),
        (
            "round_limits low=11.5mm high=11.3mm to=in step=0.001",
            "round_limits: the least limit 11.5 mm is above the greatest, 11.3 mm: swap them",
        ),
        (
            "leaves want=0.35mm leaves=0.05,0.20mm",
            "leaves: no leaves make 0.35 mm: the nearest is 0.05, 0.20 mm",
        ),
        (
            "compression bore=86mm stroke=86mm chamber=50cc gasket_bore=87mm gasket_thickness=1mm below_deck=0mm "
            "dish=0cc cylinders=0",
            "compression: cylinders=0: it is below 1: give 1 or more",
        ),
        (
            "at_20_degrees reading=95mm temperature=-500degC material=steel",
            "at_20_degrees: temperature=-500degC: nothing is as cold as that: give a temperature above -273.15 degC",
        ),
        (
            "leakage supply=100psi holds=120psi",
            "leakage: a cylinder can't hold 120 psi of 100 psi: look at the two figures",
        ),
        (
            "even_compression pressures=12bar",
            "even_compression: one cylinder is even with itself: give the readings of all",
        ),
        (
            "pump_flow displacement=16cc_rev speed=1450rpm efficiency=1.5",
            "pump_flow: no pump moves 1.5 of what it displaces: give a share of one, such as 0.92",
        ),
        ("mix total=75g first=100 second=0", "mix: second=0: it is not above nought: give it above nought"),
        ("cord_torque pull=-12N radius=45mm", "cord_torque: pull=-12N: it is below nought: give nought or more"),
        ("swept_volume bore=-74mm stroke=84mm", "swept_volume: a diameter isn't below nought: look at its sign"),
        ("swept_volume bore=74mm stroke=-84mm", "swept_volume: a stroke isn't below nought: look at its sign"),
        (
            "compression_ratio swept=-361cc clearance=13cc",
            "compression_ratio: a compression ratio needs a swept volume above nought: look at the bore and the stroke",
        ),
        (
            "clamp_stretch stretched=0mm size=M9x1 strength=10.9 grip=48mm",
            "clamp_stretch: a clamp load is more than nothing; correct the figure that it comes from",
        ),
    ],
)
def test_refusals_are_one_sentence(line, words):
    assert refusal(line) == words


def test_every_computed_kind_can_be_reckoned():
    assert COMPUTED.keys() <= RECKONINGS.keys()


@pytest.mark.parametrize("name", RECKONINGS)
def test_every_example_works_and_is_json(name):
    answer = call(RECKONINGS[name].example)
    assert json.loads(json.dumps(answer)) == answer
    assert answer["results"]


def test_listing():
    rows = listing()
    assert [row["name"] for row in rows] == list(RECKONINGS)
    assert all(row["formula"] and row["source"] and row["inputs"] for row in rows)
    adapter = next(row for row in rows if row["name"] == "adapter")
    assert adapter["example"] == "adapter torque=30ft_lb lever=12in adapter=6in"
    assert adapter["inputs"]["lever"] == "the wrench's lever, from the middle of the grip to the square"
    json.dumps(rows)


_FIGURES = st.sampled_from(
    ["0", "-1", "-0.5", "0.0", "1000000", "99999999999999", "360", "90", "1", "2", "0.000001", "x", ""]
)


@settings(max_examples=300, deadline=None)
@given(st.sampled_from(sorted(RECKONINGS)), st.lists(_FIGURES, min_size=12, max_size=12))
def test_odd_figures_give_an_answer_or_one_sentence(name, figures):
    fields = RECKONINGS[name].fields
    supply = iter(figures * 10)
    given_texts = {key: re.sub(r"\d+(\.\d+)?", lambda _: next(supply), field.example) for key, field in fields.items()}
    try:
        answer = reckon(name, given_texts)
    except BadReckoning as fault:
        answer = {"fault": str(fault)}
    assert "\n" not in json.dumps(answer)


@given(st.sampled_from(sorted(RECKONINGS)), st.dictionaries(st.text(max_size=8), st.text(max_size=12), max_size=3))
def test_any_text_is_refused_in_one_sentence(name, texts):
    with pytest.raises(BadReckoning):
        reckon(name, {**texts, "no such input": "1"})


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (Decimal("25.000"), "25.000"),
        (Decimal("1.5"), "1.5"),
        (Fraction(1, 3), "0.3333333"),
        (Fraction(200, 3), "66.66667"),
        (Fraction(20000000, 3), "6666667"),
        (Fraction(1, 8), "0.125"),
        (Decimal("0.123456789"), "0.1234568"),
        (Decimal("0"), "0"),
        (Decimal("1E+3"), "1000"),
        (7, "7"),
        (Fraction(-1, 3), "-0.3333333"),
    ],
)
def test_numbers_as_text(value, text):
    assert tidy(value) == text


def test_results_as_json():
    assert shown(q("1.50 mm")) == {"value": "1.50", "unit": "mm"}
    assert shown(Limits(low=None, high=Decimal(3), unit="mm")) == {"low": None, "high": "3", "unit": "mm"}
    assert shown([1, True, None, Fraction(1, 2), "a"]) == [1, True, None, "0.5", "a"]
