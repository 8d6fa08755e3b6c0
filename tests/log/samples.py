"""Entries for tests: a few by hand, and strategies that make any entry of any kind."""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from functools import cache
from types import UnionType
from typing import Any, Literal, Union, get_args, get_origin

from hypothesis import strategies as st
from pydantic import BaseModel

from benchvoice.log.line import Stamped
from benchvoice.session.entries import ENTRY_MODELS, Entry, Finding, Heard, Reading, Verdict

START = datetime(2026, 11, 25, 10, 15, tzinfo=UTC)

TEXT = st.text(st.characters(codec="utf-8"), max_size=20)
DECIMALS = st.builds(
    lambda digits, places: Decimal(digits).scaleb(-places), st.integers(-(10**9), 10**9), st.integers(0, 6)
)


def stamp(entry: Entry, second: int = 0, boot: str = "boot-1", by: str | None = "ann") -> Stamped:
    """The entry as it happened so many seconds after START."""
    return Stamped(START + timedelta(seconds=second), Decimal(second), boot, by, entry)


def finding(number: int) -> Stamped:
    return stamp(Finding(text=f"finding {number}"), number)


def turn(number: int) -> list[Stamped]:
    """What one spoken reading puts into a log."""
    value = Decimal("1.50") + number
    heard = Heard(text="one and a half thou", understood="reading")
    reading = Reading(
        step="main_clearance", what="oil clearance", place=("two",), value=value, unit="thou",
        said="one and a half thou", low=value, high=value,
    )  # fmt: skip
    verdict = Verdict(
        step="main_clearance", place=("two",), reading=3 * number + 2, outcome="in limits",
        low=Decimal("1.5"), high=Decimal("3.0"), unit="thou",
    )  # fmt: skip
    return [stamp(entry, number) for entry in (heard, reading, verdict)]


def entries() -> st.SearchStrategy[Entry]:
    """Any entry of any kind that the log knows."""
    return st.sampled_from(sorted(ENTRY_MODELS)).flatmap(lambda kind: of_model(ENTRY_MODELS[kind]))


@cache
def of_model(model: type[BaseModel]) -> st.SearchStrategy[Any]:
    """Any instance of a model, built from its fields' types: new kinds are covered without a word here."""
    fields: Mapping[str, st.SearchStrategy[Any]] = {
        name: of_type(field.annotation) for name, field in model.model_fields.items()
    }
    return st.builds(model, **fields)


def of_type(kind: Any) -> st.SearchStrategy[Any]:
    plain = {str: TEXT, int: st.integers(0, 10**6), bool: st.booleans(), Decimal: DECIMALS, type(None): st.none()}
    if kind in plain:
        return plain[kind]
    origin, parts = get_origin(kind), get_args(kind)
    if origin is Literal:
        return st.sampled_from(parts)
    if origin in (Union, UnionType):
        return st.one_of(*(of_type(part) for part in parts))
    if origin is tuple and parts[-1] is Ellipsis:
        return st.lists(of_type(parts[0]), max_size=3).map(tuple)
    if origin is tuple:
        return st.tuples(*(of_type(part) for part in parts))
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        return of_model(kind)
    raise NotImplementedError(f"no strategy for a field of type {kind}")


STAMPED = st.builds(
    Stamped,
    at=st.datetimes(datetime(1990, 1, 1), datetime(2200, 1, 1), timezones=st.just(UTC)),
    elapsed=DECIMALS.map(abs),
    boot=st.text("abcdef0123456789", min_size=1, max_size=32),
    by=st.none() | TEXT,
    entry=entries(),
)
