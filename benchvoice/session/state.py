"""The state of a session: the procedure in force, the facts, and what the talk is about just now.

Only the facts outlast the process. The talk is small and can be lost at any moment: what is asked next is always
worked out from the facts, so that a build that was killed in mid-sentence asks the same thing again.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from benchvoice.procedure.models import Procedure, Step
from benchvoice.session.entries import CarriedOn, Closed, FollowUp, Held, Place
from benchvoice.session.facts import Facts, Instant
from benchvoice.session.other_builds import OtherBuild

if TYPE_CHECKING:
    from benchvoice.session.figures import Figure
    from benchvoice.session.half_said import Half
    from benchvoice.session.packing import Offer
    from benchvoice.session.turn import Turn


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """Something asked that is waited for.

    `take` gets the turn and the text; it acts and answers True, or False where the text is no answer to this question
    (a command may then take it). `phrases` are the answers, for the ear and for "what can I answer".
    """

    name: str
    prompt: str
    take: Callable[["Turn", str], bool]
    phrases: tuple[str, ...] = ()
    takes_anything: bool = False
    """Any words are an answer (a name, a reason, a finding), commands first."""
    may_be_passed_over: bool = False
    """What is said may be something else: the question then falls away."""
    about: str = ""
    """What its answers are made of, for the ear: "reading", "count", "spelling", "name", "words" or nothing more."""


@dataclass(frozen=True, slots=True)
class Talk:
    """What the conversation remembers within one process."""

    question: Question | None = None
    last_said: str = ""
    warned: frozenset[tuple[str | None, str]] = frozenset()
    """Person and step whose warning was answered in this session."""
    frames: frozenset[str] = frozenset()
    """Ends and sides whose viewpoint was said in this session."""
    presented: int = 0
    """Line of the step_entered entry whose step was read out in this process."""
    told: str | None = None
    """What was said once and is not repeated unasked: a stage's figure, the end of the work."""
    done_said: str | None = None
    """The step for which "done" was said while it still owed a count."""
    place: Place | None = None
    """The place that is asked for, or that the person named."""
    again: Place | None = None
    """The place that is being measured once more."""
    again_reason: str | None = None
    figure: "Figure | None" = None
    """The figure that was said last, for "what's that in thou"."""
    offer: "Offer | None" = None
    """The packs that were named last, for "take it"."""
    asked_to_vouch: frozenset[str] = frozenset()
    """Cures that a person was asked to vouch for in this process."""
    seen: tuple[OtherBuild, ...] = ()
    """Builds that were brought in, as they were when they were last looked at."""
    closing: bool = False
    """The build is to be closed once the builds that were brought in have been looked at."""
    taken_up: int = 0
    """Line of the Resumed entry after which a stage that was broken off was spoken of."""
    half: "Half | None" = None
    """A number that was broken off, until its rest comes or its wait is over."""
    not_understood: int = 0
    """Utterances in a row that were answered and not understood: see `session.quiet`."""
    toned: str = ""
    """What was not trusted and got a tone alone, the last time: said again, it is asked about."""
    undone: int = 0
    """Rows up to this line can't be taken back any more by "wrong"."""


@dataclass(frozen=True, slots=True)
class State:
    procedure: Procedure
    facts: Facts = field(default_factory=Facts)
    talk: Talk = Talk()

    def step(self, name: str) -> Step:
        """The step of that name; KeyError where there is none (documents are checked before)."""
        for step in self.procedure.steps:
            if step.step == name:
                return step
        raise KeyError(name)

    @property
    def held(self) -> bool:
        """Whether "hold on" is in force."""
        held, carried = self.facts.last(Held), self.facts.last(CarriedOn)
        return held is not None and (carried is None or carried.n < held.n)

    @property
    def closed(self) -> bool:
        """Whether the build is closed, and no work that was owed is taken up since."""
        closed, taken_up = self.facts.last(Closed), self.facts.last(FollowUp)
        return closed is not None and (taken_up is None or taken_up.n < closed.n)

    @property
    def takes_any_words(self) -> bool:
        """Whether the answer that is awaited is kept with its sound, and nothing hangs on its words."""
        question = self.talk.question
        return question is not None and question.takes_anything and question.about not in ("places", "name")


@dataclass(frozen=True, slots=True)
class Moment:
    """State and time together, for questions about windows."""

    state: State
    now: Instant
