"""The session's one function: a state and an event give a new state and effects, and nothing else happens.

The order in which an utterance is tried: nothing but "carry on" while holding; a ban that was broken; the answer to the
question that waits; commands; an answer to the step in hand. What is none of these is kept as unclear and moves
nothing: a command is the whole utterance, and talk does nothing; where it goes on, a tone alone answers it.
"""

from typing import assert_never

from benchvoice.procedure.models import Step
from benchvoice.session import half_said, opening, quiet
from benchvoice.session.bans import break_ban, broken_ban
from benchvoice.session.beforehand import QUESTIONS, ask_before
from benchvoice.session.broken_off import QUESTIONS as BROKEN_OFF
from benchvoice.session.closing import builds_seen
from benchvoice.session.commands import COMMANDS, find
from benchvoice.session.commands.asking import ASKING
from benchvoice.session.commands.pausing import CARRY_ON, STOP, name_taking_over, take_over
from benchvoice.session.commands.table import Found
from benchvoice.session.commands.telling import EARLIER
from benchvoice.session.effects import Effect, Say
from benchvoice.session.entries import Device
from benchvoice.session.events import Amend, Begin, BuildsSeen, DeviceNews, Event, Resume, Tick, Utterance
from benchvoice.session.flow import awaits_warning, carry_on
from benchvoice.session.from_paper import take_answer
from benchvoice.session.half_said import Half
from benchvoice.session.left_over import ASKED
from benchvoice.session.plan import current_step
from benchvoice.session.questions import NO, WRONG, asks_whether_heard, is_yes_or_no, yes_or_no
from benchvoice.session.state import Question, State
from benchvoice.session.ticking import pass_time, tick
from benchvoice.session.turn import Turn
from benchvoice.session.windows import not_yet
from benchvoice.session.zeros import awaits_zero

OTHER = "[unk]"
"""The word that the ear gives for whatever is none of those that may be said."""


def step(state: State, event: Event) -> tuple[State, tuple[Effect, ...]]:
    """What an event does. Pure: the same state and event always give the same answer."""
    match event:
        case Begin():
            turn = Turn(state, event.now)
            opening.begin(turn, event)
            carry_on(turn)
        case Resume():
            turn = Turn(state, event.now)
            opening.resume(turn, event, tick)
        case Amend():
            turn = Turn(State(event.procedure, state.facts, state.talk), event.now)
            opening.amend(turn, event)
            turn.talk(question=None, presented=0, told=None, place=None, half=None)
            carry_on(turn)
        case Tick():
            turn = Turn(state, event.now)
            if tick(turn) and not turn.state.held:
                carry_on(turn)
        case DeviceNews():
            turn = Turn(state, event.now)
            turn.write(Device(what=event.what, detail=event.detail))
            turn.say(event.what)
        case BuildsSeen():
            turn = Turn(state, event.now)
            builds_seen(turn, event)
            if not turn.ended and not turn.looks:
                carry_on(turn)
        case Utterance():
            earlier = Turn(state, event.now)
            if pass_time(earlier) and not earlier.state.held:
                carry_on(earlier)
            state, before = earlier.end()
            turn = Turn(state, event.now, event)
            _hear(turn, _plain(event.text))
            turn = quiet.settle(turn, event, state)
            _ask_after_warning(turn, before)
            after, effects = turn.end()
            return after, (*before, *effects)
        case _:
            assert_never(event)
    return turn.end()


def _plain(text: str) -> str:
    """Lower case, single spaces, no closing stop or question mark."""
    return " ".join(text.lower().split()).strip(" .?!")


def _ask_after_warning(turn: Turn, before: tuple[Effect, ...]) -> None:
    """What waits for a yes is asked again when a window's word came first and these words were no answer."""
    question = turn.state.talk.question
    warned = any(isinstance(effect, Say) for effect in before)
    if warned and is_yes_or_no(question) and not turn.state.held and not turn.speaks and not turn.ended:
        turn.ask(question)


def _hear(turn: Turn, text: str) -> None:
    if turn.state.held:
        _hear_while_holding(turn, text)
        return
    if not text:
        turn.unclear("nothing was said")
        return
    said = turn.utterance
    if said is not None and said.doubtful and not turn.state.takes_any_words:
        if _is_talk(said):
            turn.unclear(said.doubtful)
            return
        if quiet.is_quiet(turn.state) and text != turn.state.talk.toned and not _is_stop(text):
            quiet.tone_alone(turn, said.doubtful)
            turn.talk(toned=text)
            return
    text = half_said.stopped(turn.state, text)
    half = half_said.held_half(turn.state)
    if half is not None:
        _hear_after_half(turn, half, text)
    elif not _is_command(turn, text) and half_said.is_half(turn.state, text):
        half_said.keep(turn, text)
    else:
        _understand(turn, text)


def _hear_after_half(turn: Turn, half: Half, text: str) -> None:
    """Words after half a number: its rest, the number begun anew, something else that drops it, or talk."""
    turn.talk(half=None)
    if text in (*NO, *WRONG):
        turn.understood("half a number taken back")
        if half_said.ask_whole(turn):
            carry_on(turn)
        return
    if not _is_command(turn, text):
        whole = f"{half.words} {text}"
        begun = next((each for each in (whole, text) if half_said.is_half(turn.state, each)), None)
        if begun is not None:
            half_said.keep(turn, begun)
            return
        if half_said.is_number(turn.state, whole) or _is_taken(turn, whole):
            text = whole
            turn.doubt(half_said.IN_TWO)
        elif not text.startswith(half.words) and _is_taken(turn, text):
            turn.doubt(half_said.IN_TWO)
    if not _understand(turn, text) and turn.state.talk.question is half.question:
        turn.talk(half=half)


def _is_command(turn: Turn, text: str) -> bool:
    named = name_taking_over(text, opening.known_people(turn.state.facts))
    return bool(named or find(COMMANDS, text) or broken_ban(turn.state, text))


def _is_taken(turn: Turn, text: str) -> bool:
    """Whether the words would be understood as they are, tried on a turn that is thrown away."""
    trial = _trial(turn)
    return _take(trial, text) and trial.unclear_because is None


def _understand(turn: Turn, text: str) -> bool:
    """Do what the words say, or ask about them; False where they are nothing that can be said, and that is said."""
    before, said = turn.state, turn.utterance
    if said is not None and said.doubtful and not _reads_back(turn, text):
        _ask_if_said(turn, text)
        return True
    if _take(turn, text):
        if _may_carry_on(turn, before):
            carry_on(turn)
        return True
    turn.unclear(_why_unclear(turn))
    question = turn.state.talk.question
    if question is not None and not question.takes_anything:
        turn.say(_once_more(question.prompt), tone="not heard")
    else:
        turn.say("I can't place that", tone="not heard")
    return False


def _reads_back(turn: Turn, text: str) -> bool:
    """Whether doubtful words are taken: a reading is read back figure by figure, and what only asks is answered.

    "Stop" is taken at any moment: it moves nothing, and asking about it would be the opposite.
    So is "no" to what was said or read back: it only drops what had not been done, and asking again and again whether
    somebody said no would keep them there.
    """
    question, in_hand, found = turn.state.talk.question, current_step(turn.state), find(COMMANDS, text)
    if _is_stop(text) or (text in NO and asks_whether_heard(question)):
        return True
    if _is_command(turn, text) and (found is None or found.command not in ASKING):
        return False
    if question is not None and question.takes_anything:
        return turn.state.takes_any_words
    zero = in_hand is not None and in_hand.measure is not None and awaits_zero(turn.state, in_hand) is not None
    return question is None and in_hand is not None and in_hand.measure is not None and not zero


def _is_stop(text: str) -> bool:
    found = find(COMMANDS, text)
    return found is not None and found.command.name == STOP


def _ask_if_said(turn: Turn, text: str) -> None:
    """Words that the ear does not trust do nothing: they are said back, and done only after a yes."""
    assert turn.utterance is not None
    waiting = turn.state.talk.question
    if (waiting is not None and waiting.name == "said") or not _is_taken(turn, text):
        turn.unclear(turn.utterance.doubtful or "not sure of the words")
        turn.say("Say it again", tone="not heard")
        return
    turn.unclear(turn.utterance.doubtful or "not sure of the words")

    def yes(inner: Turn) -> None:
        inner.talk(question=waiting)
        _take(inner, text)

    def no(inner: Turn) -> None:
        inner.talk(question=waiting)
        inner.say("Say it again")

    turn.ask(yes_or_no("said", f"{text}. Yes or no?", yes, no))


def _is_talk(said: Utterance) -> bool:
    """Whether most of what was heard is none of the words that may be said: it was not meant for this."""
    others = sum(1 for each in said.words if each.word == OTHER)
    return others > len(said.words) - others


def _hear_while_holding(turn: Turn, text: str) -> None:
    """During "hold on" only "carry on" is heard, and nothing else is kept."""
    if text not in CARRY_ON:
        turn.forget()
        return
    found = find(COMMANDS, text)
    assert found is not None
    turn.understood(found.command.name)
    found.command.act(turn, found.rest)
    if turn.state.talk.question is not None:
        turn.ask(turn.state.talk.question)
    carry_on(turn)


def _take(turn: Turn, text: str) -> bool:
    """Try the utterance as each thing that it can be."""
    ban = broken_ban(turn.state, text)
    if ban is not None:
        turn.understood("ban broken")
        break_ban(turn, ban)
        return True
    name = name_taking_over(text, opening.known_people(turn.state.facts))
    if name is not None:
        turn.understood("taking over")
        take_over(turn, name)
        turn.talk(presented=0, question=None)
        return True
    question = turn.state.talk.question
    found = find(COMMANDS, text)
    if question is not None and question.may_be_passed_over:
        return _take_or_pass_over(turn, question, text, found)
    if question is not None and not (found is not None and _comes_first(question, found)):
        if question.take(turn, text):
            return True
        if found is not None and not found.command.while_asked and question.name not in _GIVE_WAY:
            turn.understood(found.command.name)
            turn.say(f"First: {question.prompt}")
            return True
    if found is not None:
        _obey(turn, found)
        return True
    return _take_in_step(turn, text)


def _comes_first(question: Question, found: Found) -> bool:
    """Whether a command is tried before the answer that is waited for, for its form is like no answer to it.

    So is a question of the person's own: its figures ("with the crowfoot at ninety") would be taken for an answer.
    """
    if question.takes_anything:
        return found.unmistakable or (found.by_form and question.about == "name")
    may_come = found.command.while_asked or question.name in _GIVE_WAY
    asks = bool(found.lead) and not found.command.changes
    return asks or (may_come and (found.with_reason or found.command.name == EARLIER))


def _take_in_step(turn: Turn, text: str) -> bool:
    """Let the step in hand take it. What is owed is asked again anyway, so its question gives way to an answer."""
    step_in_hand = current_step(turn.state)
    if step_in_hand is None:
        return False
    if turn.state.closed:
        return False
    early = not_yet(turn.state, step_in_hand, turn.now)
    if early:
        if not take_answer(_trial(turn), step_in_hand, text):
            return False  # talk
        turn.understood("too early")
        turn.say(early)
        return True
    question = turn.state.talk.question
    if awaits_warning(turn.state, step_in_hand):
        return _warning_first(turn, step_in_hand, text)
    if _asks_first(turn, step_in_hand, text):
        return True
    if not take_answer(turn, step_in_hand, text):
        return False
    if turn.state.talk.question is question:
        turn.talk(question=None)  # passed over: what is owed is asked again, and a later yes is no answer to it
    return True


def _warning_first(turn: Turn, step: Step, text: str) -> bool:
    """An answer to a step whose warning was not answered in this session counts for nothing: that comes first."""
    trial = Turn(turn.state, turn.now, turn.utterance)
    question = turn.state.talk.question
    if (question is not None and question.name == "warning") or not take_answer(trial, step, text):
        return False
    turn.understood("warning first")
    turn.say("Not counted")
    turn.talk(question=None, told=None)
    return True


def _asks_first(turn: Turn, step_in_hand: Step, text: str) -> bool:
    """Ask what must be settled before the step takes an answer, when these words would be one."""
    if not ask_before(_trial(turn), step_in_hand) or not take_answer(_trial(turn), step_in_hand, text):
        return False
    turn.understood("asked first")
    ask_before(turn, step_in_hand)
    return True


def _trial(turn: Turn) -> Turn:
    """A turn that is thrown away."""
    return Turn(turn.state, turn.now, turn.utterance)


def _take_or_pass_over(turn: Turn, question: Question, text: str, found: Found | None) -> bool:
    """A question whose answer is known well enough: its own words answer it, and anything else goes on without."""
    if question.take(turn, text):
        return True
    turn.talk(question=None)
    if found is not None:
        _obey(turn, found)
        return True
    if _take_in_step(turn, text):
        return True
    turn.talk(question=question)
    return False


_GIVE_WAY = frozenset(
    QUESTIONS
    | BROKEN_OFF
    | {"setting", "decision", "which stands", "count", "hold point", "what is seen", "pack", "match"}
    | {"instrument", "override", "which is meant", "witness", ASKED}
)
"""Questions that what is owed asks anyway: a command may come first, and the question comes again."""


def _obey(turn: Turn, found: Found) -> None:
    turn.understood(found.command.name)
    if turn.state.closed and found.command.changes:
        turn.say("The build is closed")
        return
    question = turn.state.talk.question
    if question is not None and found.command.moves and question.name in (*_GIVE_WAY, "confirm reading"):
        turn.talk(question=None)
    found.command.act(turn, found.rest)


def _may_carry_on(turn: Turn, before: State) -> bool:
    """Whether the next thing is asked: something changed, or nothing that was waited for is left."""
    if turn.state.talk.question is not None or turn.state.held or turn.ended or turn.looks:
        return False
    if before.talk.question is not None:
        return True
    return turn.state.facts.count > turn.began + 1 or turn.state.talk != before.talk


def _why_unclear(turn: Turn) -> str:
    question = turn.state.talk.question
    said = turn.utterance
    if said is not None and said.doubtful:
        return said.doubtful
    return f"no answer to {question.name}" if question is not None else "no command and no answer to this step"


def _once_more(prompt: str) -> str:
    """The end of a prompt, which says what is wanted."""
    sentences = prompt.rstrip().split(". ")
    return sentences[-1] if len(sentences[-1]) > 3 else prompt
