"""Conditions that figures hold for: on the page of their step, and what was gone on with in spite of one in front."""

from pathlib import Path

from benchvoice.sheet.gather import Source, gather
from benchvoice.sheet.model import Sheet
from benchvoice.testing.bench import Bench

CONVERSATIONS = Path(__file__).parents[1] / "conversations"


def sheet_of(bench: Bench) -> Sheet:
    return gather(bench.procedure, bench.state.facts, Source(bench.state.facts.count, "ab" * 32))


def step_items(page: Sheet, name: str) -> list[tuple[str, str]]:
    """What a step lists, and why it doesn't count any more."""
    return [(item.text, item.void) for each in page.steps if each.name == name for item in each.items]


def test_threads_in_another_condition_stand_on_the_first_page() -> None:
    bench = Bench(CONVERSATIONS / "threads.yaml")
    bench.say("ann", "done", "greased", "oiled", "wrong", "dry", "go on because there is no oil")
    page = sheet_of(bench)
    front = [item.text for each in page.front if each.title == "Overrides" for item in each.items]
    assert front == ["Override: cap bolts: threads dry, the figures are for oiled: there is no oil"]
    asked = "; the figures are for oiled"
    assert [each for each in step_items(page, "caps_tight") if each[0].startswith("On the threads")] == [
        (f"On the threads of caps: greased{asked}", "doesn't count any more: changed (line 22)"),
        (f"On the threads of caps: oiled{asked}", "taken back (line 19)"),
        (f"On the threads of caps: dry{asked}", ""),
    ]
    first, second = next(each for each in page.groups if each.what == "Cap bolts").final
    assert [note.text for note in first.notes][-1] == f"On the threads of caps: dry{asked}"
    assert second.notes == ()


def test_the_state_of_a_set_stands_with_its_readings() -> None:
    bench = Bench(CONVERSATIONS / "warmth.yaml")
    bench.say("ann", "hot", "point two five", "it's cold now", "four hours ago")
    bench.forward("2h")
    bench.say("point two five", "point three five", "point four five", "use as is because it is worn")
    page = sheet_of(bench)
    by_hot, by_cold = next(each for each in page.steps if each.name == "lash").readings[0].lines
    assert (by_hot.value, by_hot.verdict, by_hot.item.void) == (
        "0.25 mm",
        "in limits",
        "doesn't count any more: it is cold now (line 16)",
    )
    assert (by_cold.verdict, by_cold.item.void) == ("in limits", "")
    assert next(each for each in page.steps if each.name == "lash").readings[0].limits == "0.20 to 0.30 mm"
    assert [each for each in step_items(page, "lash") if not each[0].startswith(("Instrument", "Used"))] == [
        ("Said to be hot: judged by the limits for hot", "doesn't count any more: it is cold now (line 15)"),
        ("Said to be cold: judged by the limits for cold", ""),
        ("It last ran 4 h before, at the least; asked: 6 h", ""),
    ]
    assert [(each.what, each.sort, each.seconds) for each in page.windows] == [("Engine cooling", "cooling", 7200)]
    bench.say("twenty two", "twenty three")
    temperatures = [text for text, _ in step_items(sheet_of(bench), "seat")]
    assert temperatures == ["Micrometer, temperature: 23 °C"]
