"""A careless person who says anything at any time, over a machine with every kind of step.

What must hold whatever they say: nothing raises; what was not understood changes nothing; the log alone gives the same
facts; the same events give the same effects; no reading is lost or invented; nothing closes over something owed.
"""

from dataclasses import replace
from pathlib import Path

import hypothesis.strategies as st
from hypothesis import HealthCheck, settings
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from benchvoice.procedure.register import load_register
from benchvoice.session.core import step
from benchvoice.session.effects import Write
from benchvoice.session.entries import Closed, Reading, Tightened, Verdict
from benchvoice.session.events import Tick, Utterance
from benchvoice.session.facts import Facts, fold
from benchvoice.session.known_instruments import KnownInstrument
from benchvoice.session.plan import open_steps
from benchvoice.session.state import State
from benchvoice.session.summary import against_closing
from benchvoice.session.verdicts import verdict_on
from benchvoice.testing.bench import Bench

HERE = Path(__file__).parents[1] / "conversations"
SMALL, DOUBT, TOOLS = HERE / "small.yaml", HERE / "doubt.yaml", HERE / "tools.yaml"
SHOP = tuple(KnownInstrument.of(each) for each in load_register(HERE / "shop-instruments.yaml"))

SHIPPED = Path(__file__).parents[2] / "procedures"
WHOLE = ("reduction-gear", "raw-water-pump", "launch-valve-lash")
FILES = (SMALL, SMALL, DOUBT, TOOLS, *(SHIPPED / f"{name}.yaml" for name in WHOLE))

COMMANDS = """done;next;back;wrong;skip;skip because late;left for later;left for later because no lamp;hold on;carry on
say again;slower;where am i;what's next;what torque;what limits;what do i need;how many left;how long;what can i answer
go back to shaft;go back to gap;go back to clamp on;go back to head;i forgot the shaft stamp;go back to nowhere;finding
finding scored journal;remember the rag;remember;my way because;my way because it fits;part missing;part found;stripped
stripped b;broken;lost my place;measure again;measure again because i filed it;correction point one six;correction
bo is taking over;ann is taking over;stop;quieter;don't keep that;close the build;stopping for the day;what's open
do now gap;do now seal lips;what shims for twelve;take it;the next;another;add to the tray point one five
which instrument;another instrument;what's the clamp load;what class
what is in the tray;what shims for one point three;left pack
i did stage one last night;i turned it;what did i say;last reading;i broke the ban"""
ANSWERS = """yes;no;ann;bo;understood;old shaft;new shaft;one zero;two zero;inwards;two;three;none;point one five;decide
point two zero;point three zero;three;point one;one five;nine hundred;first;second;rework;scrap because bent;nothing
use as is because the drawing allows it;leave it open;everything;two left;one right point one eight;bore three right
ten;ten newton metres;five;five newton metres;fifty;all four;all four done;a done;number two;b, c and d done;all but b
all but two;all three;free;locked;tight spot;number four;bead on;same again;twelve goes, thirteen won't;wrong part
wrong answer;more than point two;the mean;dial one;dial two;old dial;another;use it;use it because it is new;wrench one
take it;take it because i saw it;wrench two;point one one zero;point one one nine;four and a half;three point nine
twenty point zero zero;thirty point zero zero;can't get the socket on"""
GARBAGE = ["", "...", "no leave that one nine's done", "the done one", "é", "1e999", "ten ten ten", "a" * 300, "- 3"]

WORDS = [each for text in (COMMANDS, ANSWERS) for line in text.splitlines() for each in line.split(";")]


class Careless(RuleBasedStateMachine):
    """Says anything; every rule is one event."""

    def __init__(self) -> None:
        super().__init__()
        self.bench = Bench(SMALL)

    @initialize(file=st.sampled_from(FILES))
    def begins(self, file: Path) -> None:
        """Begins a build."""
        self.bench = Bench(file, instruments=SHOP if file == TOOLS else ())

    def _event(self, event: Utterance | Tick) -> None:
        """The same state and event give the same effects, twice."""
        before = self.bench.state
        once, effects = step(before, event)
        again, other = step(before, event)
        assert effects == other
        assert once.facts == again.facts
        kinds = {effect.entry.kind for effect in effects if isinstance(effect, Write)}
        if "unclear" in kinds:
            assert kinds <= {
                "unclear",
                "said",
                "window_warned",
                "window_ended",
                "window_doubtful",
                "went_back",
                "no_longer_counts",
                "step_entered",
            }

    @rule(text=st.sampled_from(WORDS) | st.sampled_from(GARBAGE))
    def says(self, text: str) -> None:
        """Says something."""
        self._event(Utterance(now=self.bench.clock.now(), text=text))
        self.bench.say(text)

    @rule(times=st.integers(1, 12))
    def works(self, times: int) -> None:
        """Works by the book for a while, so that later steps are reached."""
        if not self.bench.state.held and not self.bench.state.closed:
            self.bench.work_for(times)

    @rule(text=st.sampled_from(["5s", "3m", "9m", "1h", "3h"]))
    def waits(self, text: str) -> None:
        """Lets time pass."""
        self.bench.forward(text)

    @rule(reboot=st.booleans(), away=st.sampled_from(["1s", "5m", "3h"]))
    def loses_power(self, reboot: bool, away: str) -> None:
        """The process dies, and another goes on."""
        self.bench.kill_and_resume(reboot=reboot, away=away)

    @invariant()
    def the_log_is_the_truth(self) -> None:
        """Folding the entries gives the facts, to the last void line."""
        facts = fold(self.bench.written)
        live = self.bench.state.facts
        assert facts == live
        assert [row.entry for row in facts.rows()] == [entry for entry, _ in self.bench.written]

    @invariant()
    def no_reading_is_invented(self) -> None:
        """Each reading was heard or confirmed; each verdict is on a reading; a void reading's verdict is void too."""
        facts = self.bench.state.facts
        said = {row.entry.text for row in facts.rows() if row.entry.kind == "heard"}  # type: ignore[attr-defined]
        for row in facts.all(Reading):
            if row.entry.counts_as not in ("computed", "mean"):
                assert any(row.entry.said in text.replace(",", "") or row.entry.said in text for text in said)
        readings = {row.n: row for row in facts.all(Reading)}
        for row in facts.of(Verdict):
            assert row.entry.reading in readings
        places = [
            (row.entry.step, row.entry.group, row.entry.stage, row.entry.position)
            for row in facts.of(Tightened)
            if row.entry.outcome == "done"
        ]
        assert len(places) == len(set(places))

    def _judged_anew(self, facts: Facts, entry: Verdict) -> Verdict | None:
        found = self.bench.state.step(entry.step)
        if found.measure is None:  # a bolt's stretch
            return entry
        row = next(row for row in facts.all(Reading) if row.n == entry.reading)
        computed = found.measure.computed.get(row.entry.what) if row.entry.counts_as == "computed" else None
        return verdict_on(State(self.bench.procedure, facts), found, row, computed)

    def teardown(self) -> None:
        """Each verdict follows from what was written before it, as long as the procedure is what it was."""
        facts = Facts()
        for entry, now in self.bench.written:
            if isinstance(entry, Verdict):
                assert entry == self._judged_anew(facts, entry)
            facts = facts.add(entry, now)

    @invariant()
    def nothing_closes_over_something_owed(self) -> None:
        """A closed build has nothing open against it."""
        state = self.bench.state
        if state.facts.last(Closed) is None:
            return
        closed = state.facts.last(Closed)
        assert closed is not None
        before = self.bench.written[: closed.n - 1]
        then = replace(state, facts=fold(before))
        assert not open_steps(then)
        assert not against_closing(then, closed.now)


TestCareless = Careless.TestCase
TestCareless.settings = settings(
    max_examples=60, stateful_step_count=50, deadline=None, suppress_health_check=list(HealthCheck)
)
