"""A careless person who says anything at any time, over machines with every kind of step.

What must hold whatever they say: nothing raises; what was not understood changes nothing, and neither does a question;
the log alone gives the same facts, on a disk that fails too; the same events give the same effects; no reading is lost
or invented; what must be answered is asked again after a kill; nobody witnesses their own work; nothing is kept during
"hold on"; nothing closes over something owed.

By default a few thousand events; BENCHVOICE_CARELESS=50000 makes it so many.
"""

import os
from dataclasses import replace
from pathlib import Path

import hypothesis.strategies as st
from hypothesis import HealthCheck, settings
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from benchvoice.app.conversation import DISK_REFUSED
from benchvoice.errors import MachineError
from benchvoice.procedure.register import load_register
from benchvoice.session.commands import COMMANDS as TABLE
from benchvoice.session.commands.asking import ASKING as QUESTIONS
from benchvoice.session.core import step
from benchvoice.session.effects import Write
from benchvoice.session.entries import BanBroken, Closed, Heard, Reading, Tightened, Verdict, Witnessed
from benchvoice.session.events import Tick, Utterance
from benchvoice.session.facts import Facts, fold
from benchvoice.session.known_instruments import KnownInstrument
from benchvoice.session.plan import follow_up_steps, open_steps
from benchvoice.session.readings import state_said
from benchvoice.session.state import State
from benchvoice.session.sub_builds import undecided_changes
from benchvoice.session.summary import against_closing, standing
from benchvoice.session.verdicts import verdict_on
from benchvoice.session.ways import pending
from benchvoice.testing.bench import Bench
from benchvoice.testing.disk import Trouble, VirtualDisk

HERE = Path(__file__).parents[1] / "conversations"
SMALL, DOUBT, TOOLS, WITNESS, THREADS, WARMTH = (
    HERE / f"{name}.yaml" for name in ("small", "doubt", "tools", "witness", "threads", "warmth")
)
SHOP = tuple(KnownInstrument.of(each) for each in load_register(HERE / "shop-instruments.yaml"))

SHIPPED = Path(__file__).parents[2] / "procedures"
WHOLE = ("reduction-gear", "raw-water-pump", "launch-valve-lash")
AHEAD = (0, 0, 25, 60, 120)
FILES = (SMALL, SMALL, DOUBT, TOOLS, WITNESS, THREADS, WARMTH, *(SHIPPED / f"{name}.yaml" for name in WHOLE))

COMMANDS = """done;next;back;wrong;skip;skip because late;left for later;left for later because no lamp;hold on;carry on
say again;slower;where am i;what's next;what torque;what limits;what do i need;how many left;how long;what can i answer
go back to shaft;go back to gap;go back to clamp on;go back to head;i forgot the shaft stamp;go back to nowhere;finding
finding scored journal;remember the rag;remember;my way because;my way because it fits;part missing;part found;stripped
stripped b;broken;lost my place;measure again;measure again because i filed it;correction point one six;correction
bo is taking over;ann is taking over;stop;quieter;don't keep that;close the build;stopping for the day;what's open
do now gap;do now seal lips;what shims for twelve;take it;the next;another;add to the tray point one five
one washer left;two point;eight;minus;two point hold on
which instrument;another instrument;what's the clamp load;what class
what is in the tray;what shims for one point three;left pack
i did stage one last night;i turned it;bring in the rotor;look again;what did i say;last reading;i broke the ban"""
ANSWERS = """yes;no;ann;bo;understood;old shaft;new shaft;one zero;two zero;inwards;two;three;none;point one five;decide
point two zero;point three zero;three;point one;one five;nine hundred;first;second;rework;scrap because bent;nothing
use as is because the drawing allows it;leave it open;everything;two left;one right point one eight;bore three right
ten;ten newton metres;five;five newton metres;fifty;all four;all four done;a done;number two;b, c and d done;all but b
all but two;all three;free;locked;tight spot;number four;bead on;same again;twelve goes, thirteen won't;wrong part
wrong answer;more than point two;the mean;dial one;dial two;old dial;another;use it;use it because it is new;wrench one
take it;take it because i saw it;wrench two;point one one zero;point one one nine;four and a half;three point nine
stands because it is;stands;take it as it is now;do those steps again;bring it in because i saw it;heron
one;not now;six newton metres;twenty point zero zero;thirty point zero zero;can't get the socket on
dry;they're oiled;moly grease;something else;i don't know;change it;go on because there is none
cold;hot;seven hours;two hours ago;over an hour;it has not run;twenty two;read again;point two five"""
GARBAGE = ["", "...", "no leave that one nine's done", "the done one", "é", "1e999", "ten ten ten", "a" * 300, "- 3"]

LEADS = [lead for each in TABLE for lead in each.leads]
RESTS = ("gap", "because it is late", "point one five", "main two", "the rag", "number two", "nine's done")
EVERY = [*(said for each in TABLE for said in each.says), *(f"{lead} {rest}" for lead in LEADS for rest in RESTS)]
WORDS = [each for text in (COMMANDS, ANSWERS) for line in text.splitlines() for each in line.split(";")]
ASKING = frozenset(command.name for command in QUESTIONS)
TIME = {"window_warned", "window_ended", "window_doubtful", "went_back", "no_longer_counts", "step_entered"}
"""What time may bring of itself before an utterance is heard."""
EVENTS = int(os.environ.get("BENCHVOICE_CARELESS", "4000"))


class Careless(RuleBasedStateMachine):
    """Says anything; every rule is one event."""

    def __init__(self) -> None:
        super().__init__()
        self.bench = Bench(SMALL)

    @initialize(file=st.sampled_from(FILES), ahead=st.sampled_from(AHEAD))
    def begins(self, file: Path, ahead: int) -> None:
        """Begins a build, or comes to one that was worked at by the book."""
        self.bench = Bench(file, instruments=SHOP if file == TOOLS else ())
        self.bench.work_for(ahead)

    def _event(self, event: Utterance | Tick) -> None:
        """The same state and event give the same effects, twice."""
        before = self.bench.state
        once, effects = step(before, event)
        again, other = step(before, event)
        assert effects == other
        assert once.facts == again.facts
        written = [effect.entry for effect in effects if isinstance(effect, Write)]
        kinds = {entry.kind for entry in written}
        if "unclear" in kinds:
            assert kinds <= TIME | {"unclear", "said"}
            kept = _waits_for(once) in (_waits_for(before), "said")
            assert kinds & TIME or kept or "say it again" in once.talk.last_said.lower()
        if "reading" in kinds:  # nothing that was asked before it waits for a late yes
            assert before.talk.question is None or once.talk.question is not before.talk.question
        heard = [entry.understood for entry in written if isinstance(entry, Heard)]
        if heard and heard[0] in ASKING and before.talk.question is None:
            assert kinds - TIME <= {"heard", "said"}
        if before.held and isinstance(event, Utterance) and "carried_on" not in kinds:
            assert not kinds - TIME - {"said"}

    @rule(text=st.sampled_from(WORDS) | st.sampled_from(EVERY) | st.sampled_from(GARBAGE))
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

    @rule(text=st.sampled_from(["@clock -1h", "@clock +2h", "@clock -5m", "@reboot"]))
    def sets_the_clock(self, text: str) -> None:
        """Sets the wall clock, or switches the machine off and on."""
        self.bench.script(text)

    @rule(reboot=st.booleans(), away=st.sampled_from(["1s", "5m", "3h"]))
    def loses_power(self, reboot: bool, away: str) -> None:
        """The process dies, and another goes on: what must be answered is asked as before."""
        before = self.bench.state
        owed = pending(before)
        self.bench.kill_and_resume(reboot=reboot, away=away)
        if self.bench.state.held or self.bench.state.closed or owed is None:
            return
        again = pending(self.bench.state)
        assert again is not None
        assert again.name == owed.name
        assert again.prompt == owed.prompt or again.name == "changed build"  # it may have changed once more

    @rule()
    def stops_for_the_day(self) -> None:
        """The list for the night is short, and the same one is said on resuming without it."""
        state = self.bench.state
        if state.held or state.closed or state.talk.question is not None:
            return
        self.bench.say("stopping for the day")
        words = " ".join(self.bench.heard).split()
        assert len(words) <= 100, "forty seconds at a hundred and fifty words a minute"
        self.bench.say("nothing")
        now = self.bench.clock.now()
        list_then = standing(self.bench.state, now)
        self.bench.kill_and_resume(away="1s")
        kept = [each for each in list_then if " left" not in each and " to go" not in each]
        assert all(any(each.lower() in said.lower() for said in self.bench.heard) for each in kept)

    @invariant()
    def nobody_witnesses_their_own_work(self) -> None:
        """A witness is another person than the one who is on when the step closes."""
        for row in self.bench.state.facts.all(Witnessed):
            assert row.entry.witness != row.by

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

    @invariant()
    def cold_and_hot_are_never_mixed(self) -> None:
        """The readings of a set that count were all judged by the limits for the state that was said."""
        facts = self.bench.state.facts
        judged = [row.entry for row in facts.of(Verdict) if row.entry.reading not in facts.void]
        for name in {entry.step for entry in judged}:
            measure = self.bench.state.step(name).measure
            if measure is not None and measure.warmth is not None and measure.warmth.tables:
                said = state_said(facts, name)
                assert said is not None
                assert {entry.limits.split(",")[0] for entry in judged if entry.step == name} == {said.entry.state}

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
    def a_closing_stays(self) -> None:
        """No follow-up takes a closing back, or opens a step that was closed with the build."""
        state = self.bench.state
        closings = state.facts.all(Closed)
        assert not state.facts.void.intersection(row.n for row in closings)
        if closings and not state.closed and not state.facts.all(BanBroken):
            later = follow_up_steps(self.bench.procedure)
            assert all(step.step in later for step in open_steps(state))

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
        assert not undecided_changes(then.facts)


def _waits_for(state: State) -> str | None:
    return state.talk.question.name if state.talk.question is not None else None


class CarelessOnABadDisk(Careless):
    """The same person, while the disk is full or fails now and then."""

    @initialize(file=st.sampled_from((SMALL, WITNESS)))
    def begins(self, file: Path) -> None:
        """Begins a build on a disk in memory."""
        self.disk = VirtualDisk()
        self.bench = Bench(file, self.disk.root / "build", storage=self.disk)

    @rule(text=st.sampled_from(WORDS), trouble=st.sampled_from(list(Trouble)), soon=st.integers(1, 3))
    def disk_refuses(self, text: str, trouble: Trouble, soon: int) -> None:
        """The disk refuses: nothing counts, one sentence is said, and what goes on afterwards is what the log has."""
        before = self.bench.state.facts
        self.disk.trouble = {len(self.disk.calls) + soon: trouble}
        try:
            self.bench.say(text)
        except MachineError:
            assert self.bench.heard[-1] == DISK_REFUSED
            assert self.bench.state.facts == before
            self.disk.trouble = {}
            self.disk.kill()
            self.bench.kill_and_resume()
            resumed = self.bench.state.facts.rows()
            assert resumed[: before.count] == before.rows()
            assert resumed[len(before.rows())].entry.kind == "resumed", "nothing of what was refused counts"
        self.disk.trouble = {}


def careless_settings(events: int) -> settings:
    return settings(
        max_examples=max(5, events // 50),
        stateful_step_count=50,
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )


TestCareless = Careless.TestCase
TestCareless.settings = careless_settings(EVENTS * 3 // 4)
TestCarelessOnABadDisk = CarelessOnABadDisk.TestCase
TestCarelessOnABadDisk.settings = careless_settings(EVENTS // 4)
