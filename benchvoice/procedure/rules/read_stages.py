"""Stages that close on a reading: what a stretch is taken from, and what a drag crushes."""

from collections.abc import Iterator

from benchvoice.procedure.models import Stage, Tighten
from benchvoice.procedure.places import places_of
from benchvoice.procedure.rules.book import Book, Finding
from benchvoice.procedure.source import Path
from benchvoice.quantity.units import kind_of


def read_stages(book: Book, at: int, path: Path, part: Tighten) -> Iterator[Finding]:
    """Free lengths that are none, limits that stop nothing, spacers that nothing fits or nothing crushes."""
    for number, stage in enumerate(part.stages):
        where = (*path, "stages", number)
        yield from _free(book, (*where, "free"), part, stage)
        yield from _unwise(where, part, stage)
    yield from _crushes(book, at, (*path, "crushes"), part)


def _free(book: Book, path: Path, part: Tighten, stage: Stage) -> Iterator[Finding]:
    """A stretch is the tight length less the free one of the same fastener."""
    step = book.step(stage.free) if stage.stretch is not None and stage.free is not None else None
    group = book.procedure.groups.get(part.group)
    if step is None or step.measure is None or group is None:
        return  # told where names are looked up
    if kind_of(step.measure.unit) != "length":
        yield Finding(path, f"{step.step} reads no length", "name the step that reads the free lengths")
        return
    read = set(places_of(step.measure))
    lacking = [name for name in part.positions or group.positions if (name,) not in read]
    if lacking:
        what = f"{step.step} has no place for {lacking[0]}"
        yield Finding(path, what, "read the free lengths at one axis with a value for each position")


def _unwise(path: Path, part: Tighten, stage: Stage) -> Iterator[Finding]:
    """Where nothing tells that a fastener is past what it may be, or leads on from there."""
    band = stage.stretch or stage.drag
    if band is not None and band[1] is None:
        spent = "the bolt is scrap" if stage.stretch is not None else "what it crushes is spent"
        yield Finding((*path, stage.way), f"no greatest {stage.way} past which {spent}", "add it to the limits", True)
    if stage.drag is None:
        return
    if part.crushes is None:
        what = "nobody is led back for a new spacer when this drag is passed"
        yield Finding((*path, "drag"), what, "name the step that fits it, with crushes", True)
    if stage.step is None and stage.start is not None and stage.most is not None and stage.start != stage.most:
        what = f"it is never drawn up past {stage.start}"
        yield Finding((*path, "drag"), what, "add step, how much more torque at each try", True)


def _crushes(book: Book, at: int, path: Path, part: Tighten) -> Iterator[Finding]:
    """What is crushed is fitted by a step before, and crushed by a drag."""
    if part.crushes is None:
        return
    if all(stage.drag is None for stage in part.stages):
        yield Finding(path, "no stage here goes by a drag, so nothing is crushed", "take it out")
    elif book.at(part.crushes) >= at:
        yield Finding(path, f"{part.crushes} does not come before this step", "name the step that fits what is crushed")
    elif part.purpose == "trial":
        yield Finding(path, "a trial crushes what can't be used again", "make it the final tightening", True)
