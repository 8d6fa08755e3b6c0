import shlex

import pytest

from tests.app.conftest import Command


def test_a_torque_with_an_adapter(benchvoice: Command) -> None:
    """Statics of the lever: 30 x 12 / (12 + 6) = 20."""
    done = benchvoice("reckon", "adapter", "torque=30ft_lb", "lever=12in", "adapter=6in")
    assert (done.status, done.err) == (0, "")
    assert done.out.splitlines()[0] == "set: 20 ft_lb"


def test_as_json_with_formula_and_source(benchvoice: Command) -> None:
    answer = benchvoice("reckon", "adapter", "torque=30ft_lb", "lever=12in", "adapter=6in", "--json").answer
    assert answer["results"]["set"] == {"value": "20", "unit": "ft_lb"}
    assert answer["formula"]
    assert answer["source"]


def test_every_example_of_the_list_runs(benchvoice: Command) -> None:
    entries = benchvoice("reckon", "--list", "--json").answer
    assert len(entries) > 50
    for entry in entries:
        done = benchvoice("reckon", *shlex.split(entry["example"]))
        assert done.status == 0, entry["example"]
        assert f"by {entry['formula']} [{entry['source']}]" in done.out


def test_the_list_names_inputs_formula_and_source(benchvoice: Command) -> None:
    lines = benchvoice("reckon", "--list").out.splitlines()
    at = lines.index("benchvoice reckon drag_torque torque=30N_m drag=4N_m")
    assert lines[at + 1 : at + 3] == [
        "    torque: the torque wanted above the drag; drag: what a free fastener drags",
        "    set = torque + drag [common practice, no source]",
    ]


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ((), "Name one computation with its inputs, or ask for --list."),
        (("adaptor",), "there is no reckoning 'adaptor': did you mean 'adapter'?"),
    ],
)
def test_wrong_use(benchvoice: Command, arguments: tuple[str, ...], told: str) -> None:
    done = benchvoice("reckon", *arguments)
    assert (done.status, done.out) == (2, "")
    assert done.err.startswith(told)


def test_ways_groups_and_pieces_are_told_apart(benchvoice: Command) -> None:
    done = benchvoice(
        "reckon", "two_packs", "stock=0.50x2,0.30x2,0.10x1mm", "low=1.10mm", "high=1.10mm", "left=0.80mm"
    )
    assert "left_and_right: 0.50, 0.30 | 0.30" in done.out


def test_shim_moved_from_side_to_side(benchvoice: Command) -> None:
    tray = "stock=1.00x1,0.50x3,0.30x2,0.15x1,0.10x5mm"
    packs = ("left=0.80mm", "right=0.85mm", "value=0.224mm", "low=0.13mm", "high=0.20mm", "change=0.658")
    answer = benchvoice("reckon", "shim_move", tray, *packs, "--json").answer["results"]
    assert answer["moved"] == {"value": "0.1", "unit": "mm"}
    assert answer["left_and_right"][0] == [["0.50", "0.10", "0.10"], ["0.50", "0.30", "0.15"]]
    none = benchvoice("reckon", "shim_move", tray, *packs[:2], "value=9mm", *packs[3:])
    assert none.status == 1
    assert "no move with the sum kept brings it in" in none.err


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("adapter", "torque"), "'torque' is no input: write key=value, such as torque=30ft_lb"),
        (("adapter", "torque=1N_m", "torque=2N_m"), "torque is given twice: give it once"),
        (("adapter", "torque=30ft_lb"), "adapter needs lever"),
        (("adapter", "torque=", "lever=12in", "adapter=6in"), "torque=: '' is not a number with a unit"),
        (("adapter", "torque=-30ft_lb", "lever=12in", "adapter=6in"), "torque=-30ft_lb: it is not above nought"),
        (("adapter", "torque=30ft_lb", "lever=12in", "adapter=-6in"), "adapter=-6in: it is below nought"),
        (("adapter", f"torque={'9' * 400}x", "lever=12in", "adapter=6in"), f"torque={'9' * 39}…: "),
        (("thread", f"size={'x' * 501}"), "thread: size is 501 characters long: give it in 500 at most"),
        (("adapter", "torque=3\n0ft_lb", "lever=12in", "adapter=6in"), "torque='3\\n0ft_lb'"),
        (("adapter", "torque=30mm", "lever=12in", "adapter=6in"), "torque=30mm"),
        (("adapter", "torque=30ft_lb", "lever=12in", "adapter=6in", "length=3in"), "adapter has no input 'length'"),
        (("pack", "stock=0.50x2mm", "low=2mm", "high=2mm"), "no pack from this tray makes it"),
        (("fit", "nominal=25mm", "fit=H7"), "'H7' is not a fit"),
    ],
)
def test_wrong_and_missing_inputs_are_one_sentence(benchvoice: Command, arguments: tuple[str, ...], told: str) -> None:
    done = benchvoice("reckon", *arguments)
    assert (done.status, done.out) == (1, "")
    assert told in done.err
    assert len(done.err.strip().splitlines()) == 1
