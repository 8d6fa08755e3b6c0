"""What changed between two versions of a procedure, in plain words, and which steps' readings it concerns."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from benchvoice.procedure.decision_rules import DecisionRule
from benchvoice.procedure.faults import listed
from benchvoice.procedure.limits import NEW, Limits
from benchvoice.procedure.models import Measure, Procedure, Step

_JUDGES = (
    "limits", "warmth", "rule", "unit", "places", "only", "without", "master", "computed", "repeats", "instrument",
    "uncertainty",
)  # fmt: skip
"""What a reading is judged by: a change here means that it is judged again."""
_SECTIONS = ("particulars", "options", "instruments", "wrenches", "consumables", "stock", "groups")
_PLAIN = ("title", "machine", "work", "introduction", "standing_orders", "which_end")


@dataclass(frozen=True, slots=True)
class Difference:
    """`changes` are sentences in the order of the new document; `affected` the steps whose readings are judged anew."""

    changes: tuple[str, ...]
    affected: tuple[str, ...]

    def __str__(self) -> str:
        return "; ".join(self.changes) or "nothing changed"


def difference(old: Procedure, new: Procedure) -> Difference:
    """How the new version differs from the old one."""
    changes = [*_plain(old, new), *_sections(old, new), *_steps(old, new)]
    return Difference(tuple(changes), tuple(_affected(old, new)))


def _plain(old: Procedure, new: Procedure) -> Iterator[str]:
    for field in _PLAIN:
        before, after = getattr(old, field), getattr(new, field)
        if before != after:
            yield f"{field.replace('_', ' ')} was {_words(before)}, now {_words(after)}"


def _sections(old: Procedure, new: Procedure) -> Iterator[str]:
    for section in _SECTIONS:
        before: Mapping[str, BaseModel] = getattr(old, section)
        after: Mapping[str, BaseModel] = getattr(new, section)
        one = section.removesuffix("es") if section == "wrenches" else section.removesuffix("s")
        yield from (f"{one} {name} taken out" for name in before if name not in after)
        yield from (f"{one} {name} added" for name in after if name not in before)
        for name in after:
            if name in before:
                yield from (f"{one} {name}: {change}" for change in _fields(before[name], after[name]))


def _steps(old: Procedure, new: Procedure) -> Iterator[str]:
    before = {step.step: step for step in old.steps}
    after = {step.step: step for step in new.steps}
    yield from (f"step {name} taken out" for name in before if name not in after)
    previous = "the start"
    for name, step in after.items():
        if name not in before:
            yield f"step {name} added after {previous}"
        else:
            yield from (f"step {name}: {change}" for change in _fields(before[name], step))
        previous = name
    kept = [name for name in before if name in after]
    if kept != [name for name in after if name in before]:
        yield f"the order of the steps changed: {listed([name for name in after if name in before], 200)}"


def _fields(before: BaseModel, after: BaseModel) -> Iterator[str]:
    """Every field that differs, a change inside a part told as that part's field."""
    for field in type(after).model_fields:
        was, now = getattr(before, field), getattr(after, field)
        if was == now and _words(was) == _words(now):
            continue
        name = field.replace("_", " ")
        if isinstance(was, Measure) and isinstance(now, Measure):
            yield from _fields(was, now)
        elif isinstance(was, BaseModel) and type(was) is type(now) and not _is_short(was):
            yield from (f"{name}, {change}" for change in _fields(was, now))
        elif was in (None, (), {}):
            yield f"{name} added, {_words(now)}"
        elif now in (None, (), {}):
            yield f"{name} taken out, it was {_words(was)}"
        else:
            yield f"{name} was {_words(was)}, now {_words(now)}"


def _is_short(part: BaseModel) -> bool:
    """Parts told whole: limits and what is as short."""
    return type(part).__name__ in ("Limits", "Expected", "WayOut", "Stage", "DecisionRule")


def _words(value: Any) -> str:
    """A value as it might be written."""
    match value:
        case None:
            return "nothing"
        case bool():
            return "yes" if value else "no"
        case Limits():
            return _limits(value)
        case DecisionRule():
            return value.words("in the unit of the limits")
        case BaseModel():
            set_ = {name: getattr(value, name) for name in value.model_fields_set}
            return ", ".join(f"{name.replace('_', ' ')} {_words(part)}" for name, part in sorted(set_.items()))
        case dict():
            return ", ".join(f"{name} {_words(part)}" for name, part in value.items())
        case (low, high) if _is_end(low) and _is_end(high) and (low, high) != (None, None):
            return _band(low, high)
        case tuple() | list():
            return ", ".join(_words(part) for part in value) or "nothing"
        case str() if " " in value:
            return f'"{value}"'
        case _:
            return str(value)


def _limits(limits: Limits) -> str:
    by = f" by {limits.by}" if limits.by is not None else ""
    if set(limits.bands) == {NEW}:
        return _band(*limits.bands[NEW])
    worn = {f"{name} worn": band for name, band in limits.worn.items()}
    return ", ".join(f"{name} {_band(*band)}" for name, band in {**limits.bands, **worn}.items()) + by


def _is_end(value: Any) -> bool:
    return value is None or type(value).__name__ == "Decimal"


def _band(low: Any, high: Any) -> str:
    if low is None:
        return f"{high} at most"
    return f"{low} at least" if high is None else f"{low} to {high}"


def _affected(old: Procedure, new: Procedure) -> Iterator[str]:
    """Steps in both versions whose readings are judged by something that changed."""
    before = {step.step: step for step in old.steps}
    for step in new.steps:
        other = before.get(step.step)
        if other is not None and _judged_otherwise(old, new, other, step):
            yield step.step


def _judged_otherwise(old: Procedure, new: Procedure, before: Step, after: Step) -> bool:
    if before.measure is None or after.measure is None:
        return before.measure is not after.measure
    if any(getattr(before.measure, field) != getattr(after.measure, field) for field in _JUDGES):
        return True
    instrument = after.measure.instrument or ""
    return old.instruments.get(instrument) != new.instruments.get(instrument)
