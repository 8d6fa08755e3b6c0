"""The careless person of test_careless.py with builds beside theirs that go on, and with work owed after hand-over."""

from pathlib import Path

import hypothesis.strategies as st
from hypothesis.stateful import initialize, rule

from benchvoice.session.entries_brought import Trouble
from benchvoice.testing.bench import Bench
from tests.session.test_careless import EVENTS, EVERY, HERE, WORDS, Careless, careless_settings

PUMP, ROTOR, FOLLOW_UP = (HERE / f"{name}.yaml" for name in ("sub-pump", "sub-rotor", "follow-up"))
HERE_SAID = """yes;no;none;one;two;heron;because it is;stands;stands because it is;take it as it is now;not now
do those steps again;look again;bring in the rotor;go back to rotor;bring it in because i saw it;done;wrong;ann
close the build;go back to gap;zero point one five;hotel four one seven;hotel four one eight
six newton metres;all two done"""
SAID = [each for line in HERE_SAID.splitlines() for each in line.split(";")]


class CarelessBesideOthers(Careless):
    """A pump that brings in one of two rotors, or a pump that is closed with work owed."""

    @initialize(file=st.sampled_from((PUMP, PUMP, FOLLOW_UP)), ahead=st.integers(0, 6), which=st.sampled_from(SAID[:6]))
    def begins(self, file: Path, ahead: int, which: str) -> None:  # type: ignore[override]
        """Begins a build beside two rotors, one done and one begun; or comes to one that is closed."""
        self.bench = Bench(file)
        done, begun = Bench(ROTOR, machine="heron"), Bench(ROTOR)
        done.work_to(None)
        begun.work_for(6)
        self.bench.beside.benches = {"one": done, "two": begun}
        self.bench.say("ann", which, "because it is at hand")
        self.bench.work_for(60 if file == FOLLOW_UP else ahead)

    @rule(text=st.sampled_from(SAID) | st.sampled_from(WORDS) | st.sampled_from(EVERY))
    def says(self, text: str) -> None:
        """Says something, mostly what belongs here."""
        super().says(text)

    @rule(
        name=st.sampled_from(["one", "two"]),
        times=st.integers(1, 8),
        text=st.sampled_from(["wrong", "go back to float", "skip because late", "part missing"]),
        trouble=st.sampled_from(["", "", "", "missing", "damaged"]),
    )
    def others_go_on(self, name: str, times: int, text: str, trouble: Trouble) -> None:
        """A build beside this one goes on, is lost, or damaged."""
        beside = self.bench.beside
        beside.benches[name].say(text)
        beside.benches[name].work_for(times)
        beside.trouble[name] = trouble

    @rule(text=st.sampled_from(SAID))
    def comes_back(self, text: str) -> None:
        """Another day: whatever has changed is said, and something is answered."""
        self.bench.kill_and_resume(away="3h")
        self.bench.say("ann", text)

    @rule(which=st.sampled_from(["one", "two", "yes"]), times=st.integers(0, 12))
    def takes_up_what_is_owed(self, which: str, times: int) -> None:
        """Goes on with a closed build, when it is one."""
        if self.bench.state.closed:
            self.bench.kill_and_resume(away="3h")
            self.bench.say("ann", which)
            self.bench.work_for(times)


TestCarelessBesideOthers = CarelessBesideOthers.TestCase
TestCarelessBesideOthers.settings = careless_settings(EVENTS // 2)
