"""Stages of tightening: their units, whether each can follow those before it, and whether the wrench can be set so."""

from collections.abc import Iterator, Sequence
from decimal import Decimal

from benchvoice.errors import BenchvoiceError
from benchvoice.procedure.inputs import constant, is_constant
from benchvoice.procedure.models import Procedure, Stage, Step, Tighten
from benchvoice.procedure.rules.book import Book, Finding, asked_of, is_fitted, parts_of
from benchvoice.procedure.rules.read_stages import read_stages
from benchvoice.procedure.source import Path
from benchvoice.quantity.limits import Limits
from benchvoice.quantity.units import kind_of
from benchvoice.tighten import stages as real
from benchvoice.tighten.wrench import Adapter, Wrench, WrenchError, number_to_set, well_inside

Placed = tuple[Path, real.Stage]
"""A stage as the tightening room knows it, and where it was written."""


def findings(book: Book) -> Iterator[Finding]:
    """Stages that can't be: wrong units, nothing to tighten to, out of the wrench's range."""
    yield from _wrenches(book.procedure)
    for at_step, path, step in book.steps:
        for where, part in parts_of(path, step):
            faults = list(_drag(book, at_step, where, part))
            yield from faults
            if faults:
                continue
            yield from read_stages(book, at_step, where, part)
            for at, stage in enumerate(part.stages):
                yield from _stage(book.procedure, (*where, "stages", at), part, stage)


def whole(book: Book) -> Iterator[Finding]:
    """Stages that can't follow each other, over all the steps that share a group, for every machine."""
    told: set[tuple[Path, str]] = set()
    for finding in _sequences(book):
        if (finding.path, finding.what) not in told:
            told.add((finding.path, finding.what))
            yield finding


def real_stage(stage: Stage) -> real.Stage:
    """A declared stage as the tightening room knows it; a BenchvoiceError for one that can't be."""
    match stage.way:
        case "torque" if stage.torque is not None:
            return real.TorqueStage(torque=stage.torque, back_first=stage.back_first or Decimal(0))
        case "angle" if stage.angle is not None:
            return real.AngleStage(angle=stage.angle, most=stage.most)
        case "stretch" if stage.stretch is not None:
            low, high = stage.stretch
            return real.StretchStage(stretch=Limits(low=low, high=high, unit=stage.unit or ""))
        case "drag" if stage.drag is not None:
            low, high = stage.drag
            drag = Limits(low=low, high=high, unit=stage.unit or "")
            return real.DragStage(drag=drag, start=stage.start, step=stage.step, most=stage.most)
        case "turns" if stage.turns is not None:
            return real.TurnsStage(turns=stage.turns)
        case _:
            return real.HandStage()


def real_wrench(procedure: Procedure, name: str) -> Wrench:
    """A declared wrench as the tightening room knows it; WrenchError for one that can't be."""
    wrench = procedure.wrenches[name]
    low, high = wrench.range
    return Wrench(low=low, high=high, step=wrench.step, unit=wrench.unit, class_percent=wrench.class_percent)


def real_adapter(part: Tighten) -> Adapter | None:
    """A declared adapter as the tightening room knows it; WrenchError for one that can't be."""
    if part.adapter is None:
        return None
    return Adapter(length=part.adapter.length, lever=part.adapter.lever, angle=part.adapter.angle)


def _told(path: Path, fault: BenchvoiceError, remedy: str) -> Finding:
    """A finding from another room's sentence, `what; remedy`."""
    said = str(fault).removesuffix(".")
    for mark in ("; ", ": "):
        what, found, then = said.partition(mark)
        if found:
            return Finding(path, what, then)
    return Finding(path, said, remedy)


def _wrenches(procedure: Procedure) -> Iterator[Finding]:
    for name in procedure.wrenches:
        try:
            real_wrench(procedure, name)
        except BenchvoiceError as fault:
            yield _told(("wrenches", name), fault, "correct the wrench")


def _drag(book: Book, at: int, path: Path, part: Tighten) -> Iterator[Finding]:
    """Drag that is added to a torque: a torque, or one reading of one that is there before."""
    if part.drag is None:
        return
    where = (*path, "drag")
    if all(stage.torque is None for stage in part.stages):
        yield Finding(where, "drag is added to a torque, and no stage here has one", "take it out")
        return
    if is_constant(part.drag):
        try:
            size = constant(part.drag)
        except BenchvoiceError as fault:
            yield Finding(where, str(fault).partition(": ")[0], "write a torque such as 4 N_m")
            return
        if size is not None and (kind_of(size.unit) != "torque" or size.value <= 0):
            yield Finding(where, f"{size} is no torque that could drag", "write a torque such as 4 N_m")
        return
    step = book.step(part.drag)
    if step is None or step.measure is None:
        yield from book.unknown(where, "measure step", part.drag, [s.step for s in book.procedure.steps if s.measure])
    elif kind_of(step.measure.unit) != "torque":
        yield Finding(where, f"{part.drag} reads no torque", "name the step that reads the drag")
    elif book.at(part.drag) >= at:
        yield Finding(where, f"{part.drag} does not come before this step", "read the drag first")


def _stage(procedure: Procedure, path: Path, part: Tighten, stage: Stage) -> Iterator[Finding]:
    try:
        known = real_stage(stage)
    except BenchvoiceError as fault:
        yield _told((*path, stage.way), fault, "correct the stage")
        return
    yield from _companions(path, stage)
    if isinstance(known, real.AngleStage) and known.most is None:
        yield Finding(path, "no angle past which the bolt is scrap", "add most, such as most: 100 deg", True)
    if part.wrench in procedure.wrenches:
        yield from _on_the_wrench(procedure, path, part, stage)
    if stage.torque is not None and part.wrench is None and procedure.wrenches:
        what = "no wrench is named, so nobody asks what it is set to"
        yield Finding((*path, "torque"), what, "name the wrench in the step", True)


_GOES_WITH = {
    "unit": ("stretch", "drag"),
    "free": ("stretch",),
    "start": ("drag",),
    "step": ("drag",),
    "most": ("angle", "drag"),
    "back_first": ("torque",),
}
"""What says more of a stage, and the ways that it says something of."""


def _companions(path: Path, stage: Stage) -> Iterator[Finding]:
    """What goes with a stage is of the way that it goes."""
    for name, ways in _GOES_WITH.items():
        if getattr(stage, name) is not None and stage.way not in ways:
            what = f"a stage by {stage.way} has no {name}"
            yield Finding((*path, name), what, f"take it out, it goes with {' or '.join(ways)}")


def _on_the_wrench(procedure: Procedure, path: Path, part: Tighten, stage: Stage) -> Iterator[Finding]:
    """Whether the wrench can be set to the torque, or to all that a drag is drawn up to."""
    assert part.wrench is not None
    named = {"torque": stage.torque, "start": stage.start, "most": stage.most if stage.way == "drag" else None}
    for name, torque in named.items():
        if torque is None:
            continue
        try:
            wrench = real_wrench(procedure, part.wrench)
            drag = constant(part.drag) if part.drag is not None else None
            setting = number_to_set(torque, wrench, adapter=real_adapter(part), drag=drag)
        except WrenchError as fault:
            yield _told((*path, name), fault, "name another wrench")
            continue
        if not well_inside(setting.exact, wrench.high):
            what = f"{setting.mark} {wrench.unit} is below a fifth of what the {part.wrench} wrench goes to"
            yield Finding((*path, name), what, "a smaller wrench is surer", True)


def _sequences(book: Book) -> Iterator[Finding]:
    for name, group in book.procedure.groups.items():
        steps = [(path, step) for _, path, step in book.steps if _works_on(step, name)]
        for answers in book.machines(asked_of([step for _, step in steps])):
            fitted = [(path, step) for path, step in steps if is_fitted(step, answers)]
            seen: set[tuple[Path, ...]] = set()
            for position in group.positions:
                for round_ in _rounds(fitted, name, position):
                    key = tuple(path for path, _ in round_)
                    if key not in seen:
                        seen.add(key)
                        yield from _in_turn(round_)


def _works_on(step: Step, group: str) -> bool:
    slackens = step.slacken is not None and step.slacken.group == group
    return slackens or any(part.group == group for _, part in parts_of((), step))


def _rounds(steps: Sequence[tuple[Path, Step]], group: str, position: str) -> Iterator[list[Placed]]:
    """What one position goes through, parted where it is slackened and where a trial ends."""
    round_: list[Placed] = []
    purpose = None
    for path, step in steps:
        if step.slacken is not None:
            yield round_
            round_ = []
        for where, part in parts_of(path, step):
            if part.group != group or not _takes(part, position):
                continue
            if part.purpose != purpose:
                yield round_
                round_, purpose = [], part.purpose
            round_ = [*round_, *_placed(where, part)]
    yield round_


def _takes(part: Tighten, position: str) -> bool:
    left = part.leave_for_later.positions if part.leave_for_later is not None else ()
    return position not in left and (not part.positions or position in part.positions)


def _placed(path: Path, part: Tighten) -> Iterator[Placed]:
    for at, stage in enumerate(part.stages):
        try:
            yield (*path, "stages", at), real_stage(stage)
        except BenchvoiceError:  # told where the stage itself is looked at
            continue


def _in_turn(round_: Sequence[Placed]) -> Iterator[Finding]:
    for number, (path, _) in enumerate(round_, start=1):
        before = real.stage_faults([stage for _, stage in round_[: number - 1]]) if number > 1 else ()
        for fault in real.stage_faults([stage for _, stage in round_[:number]])[len(before) :]:
            what, _, remedy = fault.removeprefix(f"stage {number} ").partition("; ")
            yield Finding(path, f"this stage {what}", remedy or "correct the stages")
