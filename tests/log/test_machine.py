"""The writer against a plain list, in any order of turns, refusals, kills and power cuts."""

from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from benchvoice.errors import MachineError
from benchvoice.log import Line, OpenBuild, Stamped, create_build, open_build, read_log
from benchvoice.testing.disk import Loss, PowerCut, Trouble, VirtualDisk

from .samples import STAMPED, finding

BUILD = Path("bench") / "build"
TURNS = st.lists(STAMPED, max_size=3)


class LogAgainstList(RuleBasedStateMachine):
    """`told` is the model: the lines that were acknowledged, in order. `at_most` may follow them unacknowledged."""

    @initialize(seed=st.integers(0, 2**16))
    def begin(self, seed: int) -> None:
        self.disk = VirtualDisk(seed=seed)
        self.build: OpenBuild | None = create_build(BUILD, b"schema: 1\n", self.disk)
        self.told: list[Line] = list(self.build.append([finding(0)]))
        self.at_most = 0

    def _gone(self, unacknowledged: int) -> None:
        self.build = None
        self.at_most = unacknowledged

    @precondition(lambda self: self.build is not None)
    @rule(turn=TURNS)
    def append(self, turn: list[Stamped]) -> None:
        assert self.build is not None
        lines = self.build.append(turn)
        assert [line.stamped for line in lines] == turn
        self.told += lines

    @precondition(lambda self: self.build is not None)
    @rule(turn=TURNS.filter(len), call=st.integers(1, 2), loss=st.sampled_from(Loss) | st.none())
    def lose_power_or_be_killed_in_a_turn(self, turn: list[Stamped], call: int, loss: Loss | None) -> None:
        assert self.build is not None
        self.disk.crash_at = len(self.disk.calls) + call
        try:
            self.build.append(turn)
        except PowerCut:
            self._gone(len(turn))
        if loss is None:
            self.disk.kill()
        else:
            self.disk.restart(loss)

    @precondition(lambda self: self.build is not None)
    @rule(turn=TURNS.filter(len), call=st.integers(1, 2), trouble=st.sampled_from(Trouble))
    def be_refused(self, turn: list[Stamped], call: int, trouble: Trouble) -> None:
        assert self.build is not None
        self.disk.trouble = {len(self.disk.calls) + call: trouble}
        try:
            self.told += self.build.append(turn)
        except MachineError:
            self.build.close()
            self._gone(len(turn))

    @rule(loss=st.sampled_from(Loss))
    def lose_power_between_turns(self, loss: Loss) -> None:
        self.disk.restart(loss)
        self._gone(self.at_most)

    @precondition(lambda self: self.build is not None)
    @rule()
    def close(self) -> None:
        assert self.build is not None
        self.build.close()
        self._gone(self.at_most)

    @precondition(lambda self: self.build is None)
    @rule()
    def resume(self) -> None:
        self.build = open_build(BUILD, self.disk)
        found = self.build.contents.lines
        assert list(found[: len(self.told)]) == self.told
        assert len(found) <= len(self.told) + self.at_most
        self.told, self.at_most = list(found), 0

    @precondition(lambda self: self.build is not None)
    @rule()
    def be_kept_out_while_another_has_it(self) -> None:
        with pytest.raises(MachineError, match="Another benchvoice"):
            open_build(BUILD, self.disk)

    @invariant()
    def what_was_told_reads_back_in_an_unbroken_chain(self) -> None:
        if hasattr(self, "told"):
            assert list(read_log(BUILD, self.disk).lines[: len(self.told)]) == self.told


LogAgainstList.TestCase.settings = settings(max_examples=100, stateful_step_count=25, deadline=None)
TestLogAgainstList = LogAgainstList.TestCase
