"""A small build of the bottom end, entries made by hand: what a sheet must be able to show, in a few dozen lines."""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from hashlib import sha256
from pathlib import Path

import numpy as np

from benchvoice.log import Clip, Stamped, create_build, read_log, write_clip
from benchvoice.procedure.load import load_text
from benchvoice.procedure.models import Procedure
from benchvoice.session import entries as e
from benchvoice.session.facts import Facts, Instant, fold

PROCEDURE = Path(__file__).parents[2] / "procedures" / "launch-bottom-end.yaml"
START = datetime(2026, 11, 25, 10, 15, tzinfo=UTC)
HOSTILE = "<script>alert('scored')</script> & \"journal\""


class Script:
    """Entries one after another, ten seconds apart, each knowing its line."""

    def __init__(self) -> None:
        self.entries: list[tuple[e.Entry, Instant]] = []

    def add(self, *entries: e.Entry) -> int:
        """Write entries; the line of the last."""
        for entry in entries:
            elapsed = 10 * len(self.entries)
            self.entries.append((entry, Instant(START + timedelta(seconds=elapsed), Decimal(elapsed), "boot-1")))
        return len(self.entries)

    def reading(
        self,
        place: str,
        value: str,
        outcome: str = "in limits",
        out_by: str | None = None,
        *,
        counts_as: str = "first",
        replaces: int | None = None,
        clip: str | None = None,
    ) -> int:
        """A clearance of a main bearing with its verdict; the line of the reading."""
        size = Decimal(value)
        n = self.add(
            e.Reading.model_validate(
                {
                    "step": "main_clearance", "what": "oil clearance", "place": (place,), "value": size, "unit": "thou",
                    "said": f"{value} thou", "low": size, "high": size, "instrument": "strip_gauge", "clip": clip,
                    "counts_as": counts_as, "replaces": replaces,
                }
            )
        )  # fmt: skip
        self.add(
            e.Verdict.model_validate(
                {
                    "step": "main_clearance", "place": (place,), "reading": n, "outcome": outcome,
                    "out_by": None if out_by is None else Decimal(out_by), "low": Decimal("1.5"),
                    "high": Decimal("3.0"), "unit": "thou",
                }
            )
        )  # fmt: skip
        return n

    def tight(self, step: str, group: str, stage: int, asked: str, positions: Sequence[str], **more: str) -> int:
        way = "angle" if asked.endswith("deg") else "torque"
        rows = [
            e.Tightened.model_validate(
                {
                    "step": step, "group": group, "stage": stage, "stage_kind": way, "asked": asked, "position": name,
                    "purpose": "final", **more,
                }
            )
            for name in positions
        ]  # fmt: skip
        return self.add(*rows)

    def close(self, *steps: str) -> int:
        for step in steps:
            self.add(e.StepEntered(step=step), e.StepClosed(step=step))
        return len(self.entries)


def procedure() -> Procedure:
    return load_text(PROCEDURE.read_text(encoding="utf-8"), "procedure.yaml")


def facts(script: Script) -> Facts:
    return fold(script.entries)


MAINS = ("1L", "1R", "2L", "2R", "3L", "3R", "4L", "4R", "5L", "5R")


def begin() -> Script:
    """The build up to its first readings."""
    script = Script()
    script.add(
        e.Opened(
            title="Launch diesel, bottom end", procedure="procedure.yaml", machine="Gannet",
            procedure_sha256=sha256(PROCEDURE.read_bytes()).hexdigest(), program="0.1.0",
        ),
        e.Person(name="ann"),
        e.Said(text="Launch diesel, bottom end. The maker's manual comes first where it differs."),
        e.StepEntered(step="crank_ground"),
        e.Answered(question="crank_ground", answer="first undersize", step="crank_ground"),
        e.StepClosed(step="crank_ground"),
        e.Answered(question="bores", answer="standard", step="bore_size"),
        e.StepEntered(step="fitted"),
        e.Answered(question="piston_jets", answer="no", step="fitted"),
        e.Answered(question="keel_sump", answer="no", step="fitted"),
        e.Answered(question="shells", answer="new", step="fitted"),
        e.StepClosed(step="fitted"),
        e.StepEntered(step="engine_number"),
        e.Mark(step="engine_number", read="the engine number", value="LD 4 0 7", said="lima delta four zero seven"),
        e.StepClosed(step="engine_number"),
        e.StepEntered(step="block_down"),
        e.Answered(question="warning block_down", answer="understood", step="block_down"),
        e.StepClosed(step="block_down"),
        e.StepEntered(step="oil_ways"),
        e.Counted(step="oil_ways", what="rags", number=3, expected=3, way="in"),
        e.Counted(step="oil_ways", what="plugs", number=2, expected=2, way="in"),
        e.StepClosed(step="oil_ways"),
        e.StepEntered(step="shell_stamps"),
        e.Mark(
            step="shell_stamps", read="the stamp on the shell back", place=("main shells",), value="20",
            said="two zero", expected="10", matches=False,
        ),
        e.Mark(
            step="shell_stamps", read="the stamp on the shell back", place=("main shells",), value="10",
            said="one zero", expected="10", matches=True,
        ),
        e.StepClosed(step="shell_stamps"),
    )  # fmt: skip
    return script


def readings(script: Script, clip: str | None = None) -> Script:
    """Clearances: one in, one over and measured again, one corrected, one over with a decision, one too close."""
    script.add(e.StepEntered(step="main_clearance"))
    script.add(e.Heard(text="two and a quarter thou", understood="reading", via="voice"))
    script.reading("one", "2.25", clip=clip)
    over = script.reading("two", "3.5", "over", "0.5")
    script.add(
        e.Remeasured(step="main_clearance", place=("two",), entries=(over, over + 1), reason="strip was creased")
    )
    script.reading("two", "2.8", counts_as="re-measurement", replaces=over)
    wrong = script.reading("three", "2.15")
    script.add(e.Corrected(entry=wrong, step="main_clearance", place=("three",), was="2.15 thou", now="2.50 thou"))
    script.reading("three", "2.50", counts_as="correction", replaces=wrong)
    first = script.reading("four", "3.2", "over", "0.2")
    script.add(
        e.Decision(
            step="main_clearance", place=("four",), reading=first, decision="concession",
            reason="inside the wear limit of used shells", name="ann",
        )
    )  # fmt: skip
    five = script.add(
        e.Reading(
            step="main_clearance", what="oil clearance", place=("five",), value=None, unit="thou",
            said="between one and two", low=Decimal("1.0"), high=Decimal("2.0"),
        )
    )  # fmt: skip
    script.add(
        e.Verdict(
            step="main_clearance", place=("five",), reading=five, outcome="too close to call", low=Decimal("1.5"),
            high=Decimal("3.0"), unit="thou", reason="the reading lies across the lower limit",
        ),
        e.LeftForLater(step="main_clearance", what="oil clearance", positions=("five",), reason="strip torn"),
    )  # fmt: skip
    return script


def tightening(script: Script) -> Script:
    """The mains: a trial; stage one; stage two failed its hold point, doesn't count, and was done again in part."""
    for stage, asked in ((1, "25 N_m"), (2, "85 N_m")):
        script.tight("mains_trial", "main_caps", stage, asked, MAINS, purpose="trial")
    script.add(e.Slackened(step="mains_slacken", group="main_caps", positions=tuple(reversed(MAINS))))
    script.add(e.StepEntered(step="mains_stage_one"))
    _set(script, "mains_stage_one", 1, "25")
    script.tight("mains_stage_one", "main_caps", 1, "25 N_m", MAINS)
    script.add(e.Checked(step="mains_stage_one", stage=1, answer="free", passed=True))
    script.close("mains_stage_one")
    script.add(e.StepEntered(step="mains_stage_two"))
    _set(script, "mains_stage_two", 2, "60")
    last = script.tight("mains_stage_two", "main_caps", 2, "60 N_m", MAINS)
    script.add(
        e.Checked(step="mains_stage_two", stage=2, answer="tight spot", where="number four", passed=False),
        e.NoLongerCounts(
            entries=tuple(range(last - 9, last + 1)), what="main caps, stage two", reason="tight spot at number four"
        ),
        e.WentBack(step_from="mains_stage_two", step_to="final_shells", reason="tight spot at number four"),
        e.Remembered(text="touched: shell of main four"),
    )
    script.tight("mains_stage_two", "main_caps", 2, "60 N_m", MAINS[:7])
    script.tight("mains_stage_two", "main_caps", 2, "60 N_m", ("4R",), outcome="scrap", reason="head rounded")
    script.tight("mains_stage_two", "main_caps", 2, "60 N_m", ("5L",), outcome="unknown")
    script.add(
        e.LeftForLater(
            step="mains_stage_two", what="main cap bolts", positions=("5R",), reason="can't get the socket on"
        )
    )
    return script


def _set(script: Script, step: str, stage: int, torque: str) -> None:
    script.add(
        e.SetRead(
            step=step, group="main_caps", stage=stage, wrench="large", value=Decimal(torque), unit="N_m",
            said=f"{torque} newton metres", expected=Decimal(torque), expected_unit="N_m", accepted=True,
        )
    )  # fmt: skip


def closing_up(script: Script, clip: str | None = None) -> Script:
    """A bead with its window, two bolts left for later and closed, a cure in doubt, and what people said besides."""
    script.add(
        e.StepEntered(step="bead"),
        e.WindowStarted(window="bead", sort="open time", seconds=Decimal(480), what="close the joint"),
        e.WindowWarned(window="bead", left=Decimal(180)),
        e.WindowWarned(window="bead", left=Decimal(60)),
        e.WindowEnded(window="bead", outcome="closed in time", taken=Decimal("437.2")),
    )
    script.tight("rear_seal", "rear_seal", 1, "9 N_m", ("one", "two", "three", "four", "five", "six"))
    left = script.add(
        e.LeftForLater(
            step="rear_seal", what="rear seal housing bolts", positions=("seven", "eight"), closed_by="sump",
            reason="the two lower ones wait for the sump rail",
        )
    )  # fmt: skip
    script.tight("sump", "rear_seal", 1, "9 N_m", ("seven", "eight"))
    script.add(
        e.ClosedLater(entry=left, step="sump", what="rear seal housing bolts"),
        e.WindowStarted(window="flywheel_cure", sort="cure time", seconds=Decimal(21600), what="flywheel compound"),
        e.WindowDoubtful(
            window="flywheel_cure", least=Decimal(9000), most=Decimal(15000), reason="the machine was switched off"
        ),
        e.Finding(text=HOSTILE, step="main_journals", clip=clip),
        e.Finding(text="one sump bolt", what="part missing", step="sump"),
        e.Remembered(text="", step="sump", clip=clip),
        e.Remembered(text="step to the crown", step="ring_marks", place=("one",), observed=True),
        e.Variation(step="pistons_in", reason="from below, the crank is out"),
        e.SaidLater(step="oil_pump", text="primed the pump before fitting"),
        e.Override(what="zero moved", reason="let them stand", step="bores"),
        e.BanOn(ban="main_strips", what="turning the crank", until="main_strips_off"),
        e.BanBroken(ban="main_strips", what="turning the crank", damage="The strip is smeared."),
        e.Unclear(text="fifteen fifty", reason="two numbers", via="voice", sound=_sound(clip)),
        e.Owed(what="head nuts and valve lash again, after the first hour of running", step="right_way_up"),
    )
    return script


def _sound(clip: str | None) -> e.Sound | None:
    return None if clip is None else e.Sound(clip=clip, clip_sha256="0" * 64, grammar="grammars/none.json", model="m")


def a_build(clip: str | None = None) -> Script:
    return closing_up(tightening(readings(begin(), clip)), clip)


def write_build(folder: Path, script: Script | None = None) -> Clip:
    """The build on the disk, with a second of tone as its clip."""
    with create_build(folder, PROCEDURE.read_bytes()) as build:
        tone = (8000 * np.sin(np.arange(16_000) * 0.15)).astype(np.int16)
        clip = write_clip(folder, tone)
        entries = (script or a_build(clip.file)).entries
        build.append([Stamped(now.at, now.elapsed, now.boot, "ann", entry) for entry, now in entries])
    assert len(read_log(folder).lines) == len(entries)
    return clip
