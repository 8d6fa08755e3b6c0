"""The clocks of the app: the real one, and one that a script moves."""

import time
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Protocol
from uuid import uuid4

from benchvoice.errors import InputError
from benchvoice.session.facts import Instant
from benchvoice.speech.durations import parse_duration

_STEP = {"s": 1, "m": 60, "h": 3600, "d": 86400}


class Clock(Protocol):
    """What the app asks of a clock: this moment, and which run of the machine it belongs to."""

    def now(self) -> Instant:
        """This moment by every clock there is."""

    @property
    def power_on(self) -> str | None:
        """Which run of the machine since it was switched on; None where the system doesn't say."""

    def uptime(self) -> Decimal | None:
        """Seconds since the machine was switched on, sleep included; None where the system doesn't say."""


def _since_boot() -> float:
    """Seconds on a clock that runs through sleep where there is one (Linux), else the monotonic one."""
    clock = getattr(time, "CLOCK_BOOTTIME", None)
    return time.clock_gettime(clock) if clock is not None else time.monotonic()


def _milliseconds(seconds: float) -> Decimal:
    return Decimal(round(seconds * 1000)) / 1000


class RealClock:
    """Wall time and a monotonic clock that runs through sleep."""

    def __init__(self) -> None:
        self.boot = uuid4().hex[:12]
        self._start = _since_boot()
        self.power_on = _power_on()

    def now(self) -> Instant:
        """This moment, to the millisecond."""
        at = datetime.now(UTC)
        at = at.replace(microsecond=at.microsecond // 1000 * 1000)
        return Instant(at, _milliseconds(_since_boot() - self._start), self.boot)

    def uptime(self) -> Decimal | None:
        """Seconds since the machine was switched on, where the system tells which run of it this is."""
        return _milliseconds(_since_boot()) if self.power_on is not None else None


def _power_on() -> str | None:
    file = Path("/proc/sys/kernel/random/boot_id")
    try:
        return file.read_text(encoding="ascii").strip()
    except OSError:
        return None


@dataclass
class ScriptClock:
    """A clock that stands still until a script moves it: for scripted builds and tests.

    `reboot` stands for switching the machine off and on: after it only the wall clock links the two runs.
    """

    at: datetime
    elapsed: Decimal = Decimal(0)
    boot: str = field(default_factory=lambda: uuid4().hex[:12])
    power_on: str | None = "script"

    def now(self) -> Instant:
        """The moment the script has come to."""
        return Instant(self.at, self.elapsed, self.boot)

    def uptime(self) -> Decimal | None:
        """Seconds on the script's own time line; None after a reboot in the script."""
        return _milliseconds(self.at.timestamp()) if self.power_on is not None else None

    def forward(self, seconds: Decimal) -> None:
        """Let time pass."""
        self.at += timedelta(milliseconds=int(seconds * 1000))
        self.elapsed += Decimal(int(seconds * 1000)) / 1000

    def set_wall(self, seconds: Decimal) -> None:
        """Set the wall clock forward or back without time passing; nobody can compare processes by it any more."""
        self.at += timedelta(milliseconds=int(seconds * 1000))
        self.power_on = None


def move(clock: ScriptClock, line: str, tick: Callable[[], None], due: Callable[[], Decimal | None]) -> None:
    """Obey a line such as "@+10m", "@+1h30m" or "@reboot": `tick` is called at each moment that is due on the way."""
    text = line.removeprefix("@").strip()
    if text == "reboot":
        clock.power_on = None
        return
    if text.startswith("clock "):
        sign = -1 if text.removeprefix("clock ").startswith("-") else 1
        clock.set_wall(sign * _seconds(text.removeprefix("clock ").lstrip("+-"), line))
        return
    left = _seconds(text.removeprefix("+"), line)
    while (coming := due()) is not None and coming <= left:
        clock.forward(coming)
        left -= coming
        tick()
    clock.forward(left)
    tick()


def _seconds(text: str, line: str) -> Decimal:
    total, figures = Decimal(0), ""
    for letter in text.strip():
        if letter.isdecimal() or letter == ".":
            figures += letter
        elif letter in _STEP and figures:
            total, figures = total + Decimal(figures) * _STEP[letter], ""
        else:
            break
    else:
        if not figures and total:
            return total
    spoken = parse_duration(text)
    if spoken is None:
        raise InputError(f"{line.strip()!r} does not move the clock: write @+10m, @+90s, @+2h or @+1d")
    return spoken
