"""Entries about conditions in plain sentences: what was on the threads, how warm things were."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from benchvoice.session.entries import Entry, LastRan, StillSo, Temperature, ThreadFound, WarmthSaid
from benchvoice.sheet.words import duration, plain, quantity


def _thread(entry: ThreadFound) -> str:
    condition = entry.condition or "not known"
    return f"On the threads of {plain(entry.group)}: {condition}; the figures are for {entry.asked}"


def _warmth(entry: WarmthSaid) -> str:
    return f"Said to be {entry.state}: judged by the limits for {entry.state}"


def _last_ran(entry: LastRan) -> str:
    ran = "It had not run" if entry.seconds is None else f"It last ran {duration(entry.seconds)} before, at the least"
    return f"{ran}; asked: {duration(entry.asked)}"


def _temperature(entry: Temperature) -> str:
    return f"{entry.what}, temperature: {quantity(entry.value, entry.unit)}"


def _still_so(entry: StillSo) -> str:
    return f"Said to be still so: {entry.what}"


CONDITIONS: Mapping[type[Entry], Callable[[Any], str]] = MappingProxyType(
    {
        ThreadFound: _thread,
        WarmthSaid: _warmth,
        LastRan: _last_ran,
        Temperature: _temperature,
        StillSo: _still_so,
    }
)
