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
