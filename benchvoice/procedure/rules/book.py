"""A document looked at as a whole: its names, its parts with their paths, and the machines it may be used on."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from itertools import islice, product

from benchvoice.procedure.faults import nearest
from benchvoice.procedure.models import Condition, Graded, Limits, Measure, Procedure, Step, Tighten, WayOut
from benchvoice.procedure.source import Path

YES_NO = ("yes", "no")
MOST_MACHINES = 512
"""More combinations of answers than this are not gone through one by one."""


@dataclass(frozen=True, slots=True)
class Finding:
    """Something seen at a path: a fault, or advice about what is legal and unwise."""

    path: Path
    what: str
    remedy: str
    is_advice: bool = False


@dataclass(frozen=True)
class Book:
    """What the rules look at. `unsure` holds names whose parts are broken: nothing is said of what refers to them."""

    procedure: Procedure
    unsure: frozenset[str] = frozenset()
    positions: Mapping[str, int] = field(init=False)

    def __post_init__(self) -> None:
        first: dict[str, int] = {}
        for at, step in enumerate(self.procedure.steps):
            first.setdefault(step.step, at)
        object.__setattr__(self, "positions", first)

    def step(self, name: str) -> Step | None:
        """The step of that name."""
        at = self.positions.get(name)
        return None if at is None else self.procedure.steps[at]

    def at(self, name: str) -> int:
        """Where a step stands, from 0; -1 for one that isn't there."""
        return self.positions.get(name, -1)

    @property
    def steps(self) -> Iterator[tuple[int, Path, Step]]:
        """Every step with its place and path."""
        for at, step in enumerate(self.procedure.steps):
            yield at, ("steps", at), step

    @cached_property
    def answers(self) -> Mapping[str, tuple[str, ...]]:
        """The answers to each particular, option and choice."""
        found: dict[str, tuple[str, ...]] = dict.fromkeys(self.procedure.options, YES_NO)
        found.update((name, each.choices) for name, each in self.procedure.particulars.items())
        for step in self.procedure.steps:
            if step.choose is not None and step.choose.name is not None:
                found.setdefault(step.choose.name, tuple(step.choose.bands))
        return found

    def machines(self, names: Iterable[str]) -> Iterator[dict[str, str]]:
        """Every combination of answers to these particulars, options and choices."""
        known = [name for name in dict.fromkeys(names) if name in self.answers]
        combinations = product(*(self.answers[name] for name in known))
        for answers in islice(combinations, MOST_MACHINES):
            yield dict(zip(known, answers, strict=True))

    def unknown(self, path: Path, kind: str, name: str, known: Iterable[str]) -> Iterator[Finding]:
        """A fault for a name that is not known, unless its part is broken and told of elsewhere."""
        names = tuple(known)
        if name not in names and name not in self.unsure:
            yield Finding(path, f"there is no {kind} {name}", nearest(name, names))


def is_fitted(step: Step, answers: Mapping[str, str]) -> bool:
    """Whether a step belongs to a machine of these answers."""
    return _holds(step.when, answers) and not (step.unless and _holds(step.unless, answers))


def _holds(condition: Condition, answers: Mapping[str, str]) -> bool:
    return all(answers.get(name) in values for name, values in condition.items())


def asked_of(steps: Iterable[Step]) -> tuple[str, ...]:
    """The names that decide whether these steps are fitted."""
    return tuple(dict.fromkeys(name for step in steps for name in (*step.when, *step.unless)))


def parts_of(path: Path, step: Step) -> Iterator[tuple[Path, Tighten]]:
    """What a step tightens, with paths: its own part and those that come with it."""
    if step.tighten is not None:
        yield from _with_more((*path, "tighten"), step.tighten)


def _with_more(path: Path, part: Tighten) -> Iterator[tuple[Path, Tighten]]:
    yield path, part
    for at, more in enumerate(part.also):
        yield from _with_more((*path, "also", at), more)


def tables_of(path: Path, measure: Measure) -> Iterator[tuple[Path, Limits]]:
    """Every table of limits that a reading may be judged by, with paths; `path` is the measure's."""
    if measure.limits is not None:
        yield (*path, "limits"), measure.limits
    elif measure.warmth is not None:
        yield from (((*path, "warmth", state), limits) for state, limits in measure.warmth.tables.items())


def graded_of(path: Path, step: Step) -> Iterator[tuple[Path, Graded]]:
    """The graded questions of a step, hold points included."""
    if step.check is not None:
        yield (*path, "check"), step.check
    for where, part in parts_of(path, step):
        if part.hold_point is not None:
            yield (*where, "hold_point"), part.hold_point
        for at, stage in enumerate(part.stages):
            if stage.hold_point is not None:
                yield (*where, "stages", at, "hold_point"), stage.hold_point


def ways_out_of(path: Path, step: Step) -> Iterator[tuple[Path, WayOut]]:
    """Where a mark or a reading of a step leads when it is not as it should be."""
    if step.mark is not None and step.mark.otherwise is not None:
        yield (*path, "mark", "else"), step.mark.otherwise
    if step.measure is not None and step.measure.out is not None:
        yield (*path, "measure", "out"), step.measure.out


def ways_back_of(path: Path, step: Step) -> Iterator[tuple[Path, str]]:
    """Every step that this one may lead back to."""
    ways: list[tuple[Path, Graded | WayOut]] = [*graded_of(path, step), *ways_out_of(path, step)]
    for where, way in ways:
        if isinstance(way.back_to, str):
            yield (*where, "back_to"), way.back_to
        elif way.back_to is not None:
            yield from (((*where, "back_to", cause), name) for cause, name in way.back_to.items())
