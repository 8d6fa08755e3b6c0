"""Time across kills, reboots, sleep and clocks that are set, on a virtual machine of clocks with a true time beside.

Whatever happens: a cure is never credited with more than the truth, an open time never with less than what any process
saw, and where the wall clock was only set while a process ran and wrote afterwards, never with less than the truth.
"""

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import hypothesis.strategies as st
from hypothesis import given

from benchvoice.session.clocks import SLACK, passed
from benchvoice.session.entries import Device, Opened, Resumed
from benchvoice.session.facts import Facts, Instant

START = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)


@dataclass
class Machine:
    """A computer: its true time, its wall clock, its run since power on, and one process that writes a log."""

    true: int = 0
    wall: int = 0
    power_on: int = 1
    switched_on: int = 0
    boot: int = 1
    began: int = 0
    facts: Facts = field(default_factory=Facts)
    says_uptime: bool = True

    def now(self) -> Instant:
        """This moment by the clocks of the process."""
        return Instant(START + timedelta(seconds=self.wall), Decimal(self.true - self.began), f"boot{self.boot}")

    def write(self) -> None:
        """Any entry."""
        self.facts = self.facts.add(Device(what="note"), self.now())

    def open(self) -> None:
        """The first entry of a build."""
        entry = Opened(
            title="a",
            procedure="p",
            procedure_sha256="0" * 64,
            program="0",
            **self._run(),
        )
        self.facts = self.facts.add(entry, self.now())

    def _run(self) -> dict[str, object]:
        if not self.says_uptime:
            return {}
        return {"power_on": str(self.power_on), "uptime": Decimal(self.true - self.switched_on)}

    def goes(self, seconds: int) -> None:
        """Time passes, awake or asleep: the process's clock runs through both."""
        self.true += seconds
        self.wall += seconds

    def set_clock(self, seconds: int) -> None:
        """The wall clock is set; the process writes of something afterwards."""
        self.wall += seconds
        self.write()

    def dies(self, away: int, *, reboot: bool, set_while_off: int = 0) -> None:
        """The process is killed, and another begins after a while: with or without a new run of the machine."""
        self.goes(away)
        self.wall += set_while_off
        self.boot += 1
        self.began = self.true
        if reboot:
            self.power_on += 1
            self.switched_on = self.true
        self.facts = self.facts.add(Resumed(program="0", **self._run()), self.now())


SECONDS = st.integers(0, 5000)
SETS = st.integers(-8000, 8000)
EVENT = st.one_of(
    st.tuples(st.just("goes"), SECONDS),
    st.tuples(st.just("writes"), st.just(0)),
    st.tuples(st.just("set"), SETS),
    st.tuples(st.just("kill"), SECONDS),
    st.tuples(st.just("reboot"), SECONDS),
)


def _play(machine: Machine, events: list[tuple[str, int]]) -> None:
    for what, seconds in events:
        match what:
            case "goes":
                machine.goes(seconds)
            case "writes":
                machine.write()
            case "set":
                machine.set_clock(seconds)
            case _:
                machine.write()
                machine.dies(seconds, reboot=what == "reboot")


@given(before=st.lists(EVENT, max_size=6), after=st.lists(EVENT, max_size=12), says=st.booleans())
def test_no_clock_gives_credit_or_a_fresh_window(
    before: list[tuple[str, int]], after: list[tuple[str, int]], says: bool
) -> None:
    machine = Machine(says_uptime=says)
    machine.open()
    _play(machine, before)
    start, begun = machine.now(), machine.true
    machine.write()
    _play(machine, after)
    found, truth = passed(machine.facts, start, machine.now()), machine.true - begun
    assert found.least <= truth
    if found.most is not None:
        assert found.most >= truth
        assert found.most >= found.least


@given(after=st.lists(EVENT, min_size=1, max_size=8), away=SECONDS, back=st.integers(1, 20000))
def test_a_clock_that_went_back_while_off_is_never_believed(after: list[tuple[str, int]], away: int, back: int) -> None:
    machine = Machine(says_uptime=False)
    machine.open()
    start = machine.now()
    _play(machine, after)
    machine.write()
    machine.dies(away, reboot=True, set_while_off=-(away + int(SLACK) + back))
    assert passed(machine.facts, start, machine.now()).most is None


@given(events=st.lists(EVENT, max_size=10))
def test_inside_one_process_the_wall_clock_is_nothing(events: list[tuple[str, int]]) -> None:
    machine = Machine()
    machine.open()
    start, begun = machine.now(), machine.true
    _play(machine, [event for event in events if event[0] not in ("kill", "reboot")])
    found = passed(machine.facts, start, machine.now())
    assert found.least == found.most == machine.true - begun
