"""How the work goes on: a step is read out, asks what it owes, closes, and the next one begins.

`carry_on` is called after every turn that changed something. It works out from the facts what comes next, so that it
does not matter how the facts came about: by the book, by going back, or by resuming after a kill.
"""

from benchvoice.procedure.models import Step
from benchvoice.session import frames
from benchvoice.session.bans import say_bans
from benchvoice.session.beforehand import ask_before, ask_first
from benchvoice.session.counting import Count, counts_owed
from benchvoice.session.entries import Answered, Counted, Reading, Remembered, StepEntered, WentBack
from benchvoice.session.facts import Row
from benchvoice.session.follow_ups import ask_done, ask_follow_up, first_closing, not_done, note_done, owed_words
from benchvoice.session.hearing import whole_number
from benchvoice.session.kinds import KINDS
from benchvoice.session.left_over import asks_left_over
from benchvoice.session.left_over import question as ask_left_over
from benchvoice.session.matching import recall_match
from benchvoice.session.moves import close, enter_next
from benchvoice.session.opening import say_standing_orders, still_to_ask
from benchvoice.session.packing import recall_packs
from benchvoice.session.plan import current_step, open_steps, title_of
from benchvoice.session.questions import UNDERSTOOD, listed
from benchvoice.session.state import Question, State
from benchvoice.session.ticking import ask_about_cures
from benchvoice.session.turn import Turn, join
from benchvoice.session.ways import pending
from benchvoice.session.windows import not_yet
from benchvoice.session.witnesses import ask_witness, is_witnessed
from benchvoice.speech.say import say_count, say_list, say_place


def carry_on(turn: Turn) -> None:
    """Say and ask what comes next, until something must be waited for."""
    for _ in range(2 * len(turn.state.procedure.steps) + 8):
        if turn.state.talk.question is not None:
            return
        if turn.state.closed and not owed_words(turn.state, turn.now):
            return
        if ask_about_cures(turn):
            return
        if turn.state.closed:
            ask_follow_up(turn)
            return
        first = still_to_ask(turn.state) or pending(turn.state) or ask_done(turn.state)
        if first is not None:
            turn.ask(first)
            return
        step = current_step(turn.state)
        if step is None:
            if not turn.state.facts.of(StepEntered):
                say_standing_orders(turn)
            if enter_next(turn):
                continue
            if note_done(turn):
                continue
            if not (_is_follow_up_over(turn.state) and ask_follow_up(turn)):
                _nothing_next(turn)
            return
        if not presented(turn.state) and not _present(turn, step):
            return
        if not _work(turn, step):
            return


def _is_follow_up_over(state: State) -> bool:
    """Whether all that was taken up on a closed build is done, so that more of what is owed may be."""
    return first_closing(state.facts) > 0 and not not_done(state) and not open_steps(state)


def _work(turn: Turn, step: Step) -> bool:
    """Ask what the step owes, or close it; False when something is waited for."""
    kind = KINDS[step.kind]
    if ask_before(turn, step) or kind.ask(turn, step):
        return False
    owed = counts_owed(turn.state, step)
    finished = turn.state.talk.done_said == step.step or (kind.by_itself and not came_back_to(turn.state, step))
    if owed and finished:
        turn.ask(_how_many(step, owed[0]))
        return False
    if finished and asks_left_over(turn.state.facts, step):
        turn.ask(ask_left_over())
        return False
    if finished and step.witness and not is_witnessed(turn.state, step):
        turn.ask(ask_witness(step))
        return False
    if not finished:
        if kind.by_itself and turn.state.talk.told != "all read":
            turn.talk(told="all read")
            turn.say('Every reading here stands. Measure again, or say "done"')
        return False
    close(turn, step)
    return True


def came_back_to(state: State, step: Step) -> bool:
    """Whether the person went back to a step that owes nothing: it stays open until they say that it is done."""
    if step.measure is None:
        return False
    went, entered = state.facts.last(WentBack), _entered(state)
    if went is None or entered is None or went.entry.step_to != step.step or entered.n != went.n + 1:
        return False
    return not any(row.n > entered.n for row in state.facts.of(Reading))


def _nothing_next(turn: Turn) -> None:
    if turn.state.talk.told == "end":
        return
    waiting = open_steps(turn.state)
    turn.talk(told="end")
    if waiting:
        names = listed((title_of(step) for step in waiting[:3]), "and")
        turn.say(f"Nothing else can be done before {names}")
    else:
        turn.say('Every step is closed. Say "close the build"')


# Reading a step out -------------------------------------------------------------------------------------------------


def presented(state: State) -> bool:
    """Whether the step in hand was read out in this process."""
    entered = _entered(state)
    return entered is not None and state.talk.presented == entered.n


def _entered(state: State) -> Row[StepEntered] | None:
    step = current_step(state)
    rows = [row for row in state.facts.of(StepEntered) if step is not None and row.entry.step == step.step]
    return rows[-1] if rows else None


def _present(turn: Turn, step: Step) -> bool:
    """Read a step out: warning first, then everything that must be known before hands move. False while waited for."""
    early = not_yet(turn.state, step, turn.now)
    if early:
        turn.say(early)
        return False
    if step.warning and not _warned(turn, step):
        return False
    if ask_first(turn, step):
        return False
    if step.caution:
        turn.say(f"Caution. {step.caution}")
    if step.standing_order:
        turn.say(f"From here on: {step.standing_order}")
    say_bans(turn, step)
    _recall(turn, step)
    if step.say:
        turn.say(step.say)
    opening = KINDS[step.kind].opening(turn.state, step)
    said, seen = frames.frame_for(turn.state, (step.say or "", *opening))
    turn.say(*said)
    turn.say(*opening)
    entered = _entered(turn.state)
    turn.talk(presented=entered.n if entered else 0, frames=turn.state.talk.frames | seen)
    return True


def awaits_warning(state: State, step: Step) -> bool:
    """Whether the step's warning is still to be answered by who is on, in this session and since it was entered."""
    if not step.warning:
        return False
    entered = _entered(state)
    since = entered.n if entered else 0
    answered = f"warning {step.step}"
    return (state.facts.person, step.step) not in state.talk.warned or not any(
        row.entry.question == answered and row.n > since for row in state.facts.of(Answered)
    )


def _warned(turn: Turn, step: Step) -> bool:
    """Speak a warning and wait for its answer: in full the first time for this person, in one word after that."""
    if not awaits_warning(turn.state, step):
        return True
    key, answered = (turn.state.facts.person, step.step), f"warning {step.step}"
    short = key in turn.state.talk.warned
    text = "Warning, as before" if short else f"Warning. {step.warning}"

    def take(inner: Turn, words: str) -> bool:
        if words not in UNDERSTOOD:
            return False
        inner.understood("understood")
        inner.write(Answered(question=answered, answer="understood", step=step.step))
        inner.talk(question=None, warned=inner.state.talk.warned | {key})
        return True

    prompt = join((text, 'Say "understood"'))
    turn.ask(Question(name="warning", prompt=prompt, take=take, phrases=UNDERSTOOD))
    return False


def _recall(turn: Turn, step: Step) -> None:
    for name in step.recalls:
        turn.say(*recall_packs(turn.state, name), *recall_match(turn.state, name))
        for row in turn.state.facts.of(Remembered):
            if row.entry.step == name and row.entry.observed:
                where = f"{say_place(row.entry.place)}: " if row.entry.place else ""
                turn.say(f"You said: {where}{row.entry.text}")


# Counts -------------------------------------------------------------------------------------------------------------


def _how_many(step: Step, count: Count) -> Question:
    way = {"laid out": "", "in": " in", "out": " out", "left in": " left in"}[count.way]

    def take(turn: Turn, text: str) -> bool:
        number = whole_number(text, count.what)
        if number is None:
            return False
        turn.understood("count")
        turn.talk(question=None)
        note_count(turn, step, count, number)
        return True

    return Question(name="count", prompt=f"{count.what}{way}: how many?", take=take, about="count")


def note_count(turn: Turn, step: Step, count: Count, number: int) -> None:
    """Keep a count; one that does not come out is said, and stays owed."""
    expected = number if number in count.numbers else count.expected
    turn.write(Counted(step=step.step, what=count.what, number=number, expected=expected, way=count.way))
    if number == expected:
        turn.say(say_count(number))
    else:
        turn.say(f"{say_count(number)}. I expected {say_list([say_count(each) for each in count.numbers], last='or')}")
