"""What the page shows is what the log says: nothing erased, nothing made better than it is."""

from decimal import Decimal

from benchvoice.session import entries as e
from benchvoice.sheet.gather import Source, gather
from benchvoice.sheet.model import PlaceReadings, Section, Sheet, StepPart
from tests.sheet.builds import Script, a_build, begin, facts, procedure, readings, tightening


def sheet(script: Script | None = None) -> Sheet:
    return gather(procedure(), facts(script or a_build()), Source(136, "ab" * 32))


def step(page: Sheet, name: str) -> StepPart:
    return next(each for each in page.steps if each.name == name)


def place(page: Sheet, name: str) -> PlaceReadings:
    return next(each for each in step(page, "main_clearance").readings if each.place == name)


def section(page: Sheet, title: str) -> Section:
    return next(each for each in (*page.front, *page.lists) if each.title.startswith(title))


def test_head_of_the_page() -> None:
    page = sheet()
    assert (page.title, page.machine, page.people) == ("Launch diesel, bottom end", "Gannet", ("ann",))
    assert page.began == "2026-11-25 10:15:00"
    assert page.status == "Not closed"


def test_a_closed_build_says_when_and_what_is_still_owed() -> None:
    script = begin()
    script.add(e.Closed(with_open=("sealant, no oil before",)))
    assert sheet(script).status == "Closed on 2026-11-25 10:19:20 by ann, with this still owed: sealant, no oil before"


def test_a_re_measurement_stands_beside_the_reading_it_replaces() -> None:
    first, second = place(sheet(), "two").lines
    assert (first.value, first.verdict, first.out) == ("3.5 thou", "over by 0.5 thou", True)
    assert first.item.void == "measured again: strip was creased (line 33)"
    assert not first.mark.counts
    assert (second.value, second.verdict, second.item.void) == ("2.8 thou", "in limits", "")
    assert "re-measurement of line 31" in second.remarks


def test_a_correction_is_called_one_and_keeps_both_decimals() -> None:
    first, second = place(sheet(), "three").lines
    assert first.item.void.startswith("corrected: misheard or misspoken, now 2.50 thou")
    assert (first.value, second.value) == ("2.15 thou", "2.50 thou")
    assert "correction of line 36" in second.remarks


def test_a_repeat_is_kept_beside_the_one_that_stands() -> None:
    script = readings(begin())
    first = next(line.item.n for line in place(sheet(script), "one").lines)
    second = script.reading("one", "2.75", counts_as="repeat")
    script.add(e.Stands(step="main_clearance", place=("one",), reading=second))
    one, two = place(sheet(script), "one").lines
    assert one.item.n == first
    assert f"kept beside; line {second} stands" in one.remarks
    assert not one.item.void
    assert "this one stands" in two.remarks


def test_only_readings_that_count_and_are_out_are_on_the_first_page() -> None:
    found = {each.place: each.lines[-1] for each in sheet().out_of_limits}
    assert list(found) == ["Main oil clearance: four", "Main oil clearance: five"]
    decision = "decision: concession (used as it is): inside the wear limit of used shells (ann)"
    assert decision in found["Main oil clearance: four"].remarks
    assert found["Main oil clearance: five"].verdict.startswith("too close to call")


def test_a_place_that_was_not_read_is_still_there() -> None:
    page = sheet(begin())
    assert [each.place for each in step(page, "main_clearance").readings] == ["one", "two", "three", "four", "five"]
    assert not any(each.lines for each in step(page, "main_clearance").readings)


def test_limits_follow_the_particulars_and_the_wear_limits_are_known() -> None:
    page = sheet()
    assert {each.limits for each in step(page, "main_journals").readings} == {"2.1150 to 2.1155 in"}
    gaps = step(page, "ring_gaps").readings
    assert (gaps[0].place, gaps[0].limits) == ("one, top", "12 to 18 thou")
    assert gaps[0].band is not None
    assert gaps[0].band.worn == (Decimal(12), Decimal(30))


def test_a_reading_in_another_unit_is_drawn_in_that_of_the_limits() -> None:
    script = begin()
    n = script.add(
        e.Reading(
            step="main_clearance", what="oil clearance", place=("one",), value=Decimal("0.0508"), unit="mm",
            said="nought point nought five nought eight", low=Decimal("0.0508"), high=Decimal("0.0508"),
        )
    )  # fmt: skip
    script.add(
        e.Verdict(
            step="main_clearance", place=("one",), reading=n, outcome="in limits", low=Decimal("1.5"),
            high=Decimal("3.0"), unit="thou",
        )
    )  # fmt: skip
    line = place(sheet(script), "one").lines[0]
    assert line.value == "0.0508 mm"
    assert line.mark.low == line.mark.high == Decimal(2)


def test_computed_values_say_what_they_come_from() -> None:
    script = begin()
    script.add(
        e.Reading(
            step="end_float", what="mean_float", value=Decimal("6.0"), unit="thou", said="", low=Decimal("6.0"),
            high=Decimal("6.0"), counts_as="computed", from_entries=(3, 4, 5),
        )
    )  # fmt: skip
    found = step(sheet(script), "end_float")
    assert not found.readings[0].lines
    assert found.computed[0].place == "mean float"
    assert found.computed[0].lines[0].remarks == ("by sum / count, from lines 3, 4, 5",)


def test_maps_tell_trial_from_final_and_how_far_each_bolt_came() -> None:
    mains = next(each for each in sheet().groups if each.what == "Main cap bolts")
    assert [stage.summary for stage in mains.trial] == ["10 of 10 done", "10 of 10 done"]
    stages = {stage.title: stage for stage in mains.final}
    second = stages["Main caps, stage two"]
    assert second.summary == "7 of 10 done, 1 left for later, 1 unknown, 1 scrap"
    assert {bolt.name: bolt.state for bolt in second.bolts if bolt.state != "done"} == {
        "4R": "scrap",
        "5L": "unknown",
        "5R": "left for later",
    }
    assert [item.text for item in second.notes if item.void] == [
        "Tightened before: 1L, 1R, 2L, 2R, 3L, 3R, 4L, 4R, 5L, 5R"
    ]
    assert stages["Main caps, stage three"].summary == "0 of 10 done, 10 open"
    assert [bolt.name for bolt in second.bolts if bolt.number <= 2] == ["3L", "3R"]


def test_what_was_left_for_later_says_what_closed_it() -> None:
    texts = [item.text for item in section(sheet(), "Left for later").items]
    assert texts[0].endswith("strip torn. Still open")
    assert "Closed at sump (line 123" in texts[-1]
    seal = next(each for each in sheet().groups if each.what == "Rear seal housing bolts")
    assert seal.final[0].left == (
        "seven and eight left for later; the two lower ones wait for the sump rail; closed at sump",
    )


def test_open_items_by_the_last_line() -> None:
    found = sheet().open_items
    open_steps = len(procedure().steps) - 11  # eleven are closed by the script or not fitted
    assert found[0] == (
        f"{open_steps} steps not closed: bore size, parts laid out, cylinder bores, piston skirts, piston pin bores"
        f" and {open_steps - 5} more"
    )
    for text in (
        "Main oil clearance, five: too close to call, without a decision (line 44)",
        "Cure time not ended: flywheel compound (line 124)",
        "Rags: 3 counted in and not out",
        "No turning the crank, until strips off the mains",
        "Part missing: one sump bolt (line 127)",
    ):
        assert text in found
    assert not any("four" in text for text in found)  # it has a decision


def test_what_is_left_over_is_open_until_a_finding_says_what_was_made_of_it() -> None:
    script = begin()
    n = script.add(e.LeftOver(what="washer", number=1, step="oil_ways"))
    still = f"Left over: washer, 1, without a finding (line {n})"
    assert still in sheet(script).open_items
    script.add(e.Finding(text="washer left over, a spare one", left_over=n))
    assert still not in sheet(script).open_items
    findings = section(sheet(script), "Findings").items
    assert [item.text for item in findings] == ["Finding: washer left over, a spare one"]


def test_a_trial_is_never_tight() -> None:
    script = begin()
    script.tight("rods_trial", "big_ends", 1, "25 N_m", ("1A", "1B"), purpose="trial")
    assert "Big end bolts, only tight for a trial" in sheet(script).open_items


def test_what_was_taken_back_twice_counts_again() -> None:
    script = begin()
    n = script.reading("one", "2.25")
    back = script.add(e.Retracted(entries=(n, n + 1), what="2.25 thou"))
    assert place(sheet(script), "one").lines[0].item.void == f"taken back (line {back})"
    script.add(e.Retracted(entries=(back,), what="taking back"))
    assert place(sheet(script), "one").lines[0].item.void == ""


def test_tools_say_whether_calibration_was_due() -> None:
    document = procedure()
    gauge = document.instruments["strip_gauge"].model_copy(update={"calibration_due": "2026-11-24"})
    wrench = document.wrenches["large"].model_copy(update={"calibration_due": "2026-11-25"})
    document = document.model_copy(
        update={
            "instruments": {**document.instruments, "strip_gauge": gauge},
            "wrenches": {**document.wrenches, "large": wrench},
        }
    )
    page = gather(document, facts(tightening(readings(begin()))), Source(1, ""))
    found = {tool.name: tool for tool in page.tools}
    assert found["strip gauge"].overdue
    assert not found["large wrench"].overdue
    assert found["large wrench"].detail == "20 to 120 N·m, ±4 %"


def test_warnings_are_apart_from_particulars() -> None:
    page = sheet()
    assert [item.text for item in section(page, "Warnings").items] == [
        "Block upside down: Seventy kilos. Hoist, not arms. Answered: understood."
    ]
    assert ("How was the crank ground?", "first undersize") in [(pair.name, pair.value) for pair in page.particulars]
    assert not any("warning" in pair.name.lower() for pair in page.particulars)


def test_the_timeline_has_every_line() -> None:
    page = sheet()
    assert [talk.n for talk in page.timeline] == list(range(1, len(a_build().entries) + 1))
    assert {talk.sort for talk in page.timeline} == {"heard", "said", "unclear", "fact"}


def test_a_step_that_an_amendment_removed_keeps_what_was_recorded() -> None:
    script = begin()
    script.add(e.StepEntered(step="old_step"))
    script.reading("six", "2.0")
    script.add(e.Checked(step="old_step", answer="free", passed=True))
    page = sheet(script)
    assert step(page, "old_step").number is None
    assert step(page, "old_step").items
    assert not place(page, "six").expected


def test_packs_and_matched_sets_are_listed_piece_by_piece() -> None:
    script = begin()
    n = script.add(
        e.PackTaken(
            step="end_float", pack="thrust halves", stock="thrust_halves", pieces=(Decimal("5.0"), Decimal("2.5")),
            total=Decimal("7.5"), unit="thou", low=Decimal("6"), high=Decimal("10"),
        ),
        e.StockChanged(stock="thrust_halves", size=Decimal("2.5"), unit="thou", number=-1, said="two and a half"),
        e.Matched(
            step="rod_weights", what="pistons and rods", how="totals", sets=(("one", "three"), ("two", "one")),
            figure=Decimal("2"), unit="g", from_entries=(1, 2),
        ),
    )  # fmt: skip
    script.add(e.NoLongerCounts(entries=(n - 2,), what="thrust halves", reason="another pack; back in the tray"))
    items = section(sheet(script), "Packs from the tray").items
    assert [item.text for item in items] == [
        "Thrust halves, out of thrust halves: 5.0 + 2.5 = 7.5 thou; asked: 6 to 10 thou",
        "1 fewer of 2.5 thou in thrust halves",
        "Pistons and rods matched: one with three; two with one; spread of the totals 2 g",
    ]
    assert "back in the tray" in items[0].void
    assert "5.0 + 2.5" in step(sheet(script), "end_float").items[0].text
