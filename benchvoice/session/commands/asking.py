"""Questions a person asks: they move nothing."""

from benchvoice.procedure.models import Step
from benchvoice.session import summary
from benchvoice.session.commands.table import Command
from benchvoice.session.counting import counts_of, counts_owed
from benchvoice.session.effects import Adjust
from benchvoice.session.entries import Finding, Reading, Remembered, StepClosed
from benchvoice.session.fasteners import parts_of, still_open, tasks_of
from benchvoice.session.figures import note_figure
from benchvoice.session.kinds import KINDS
from benchvoice.session.plan import current_step, fitted_steps, next_step, title_of
from benchvoice.session.questions import listed
from benchvoice.session.turn import Turn
from benchvoice.speech.say import say_count, say_place


def _again(turn: Turn, _rest: str) -> None:
    turn.say(turn.state.talk.last_said or summary.where(turn.state))


def _slower(turn: Turn, _rest: str) -> None:
    turn.do(Adjust("slower"))
    _again(turn, "")


def _faster(turn: Turn, _rest: str) -> None:
    turn.do(Adjust("faster"))


def _where(turn: Turn, _rest: str) -> None:
    turn.say(summary.where(turn.state))
    step = current_step(turn.state)
    if step is None:
        return
    owed = KINDS[step.kind].owes(turn.state, step, turn.now)
    owed += tuple(f"the count of {count.what}" for count in counts_owed(turn.state, step))
    if owed:
        turn.say(f"Still owed: {listed(owed[:4], 'and')}{_more(len(owed) - 4)}")


def _more(number: int) -> str:
    return f", and {say_count(number)} more" if number > 0 else ""


def _next(turn: Turn, _rest: str) -> None:
    step = current_step(turn.state)
    after = _following(turn, step)
    turn.say(f"Next: {title_of(after)}" if after is not None else "Nothing after this")


def _following(turn: Turn, step: Step | None) -> Step | None:
    if step is None:
        return next_step(turn.state)
    steps = fitted_steps(turn.state)
    closed = {row.entry.step for row in turn.state.facts.of(StepClosed)}
    at = [each.step for each in steps].index(step.step)
    return next((each for each in steps[at + 1 :] if each.step not in closed), None)


def say_torque(turn: Turn, _rest: str) -> None:
    """The torque of the stage in hand or of the next one, with what to set where that is another figure."""
    step = tighten_step(turn)
    turn.say(KINDS["tighten"].torque(turn.state, step) if step is not None else "No tightening is coming")
    tasks = tasks_of(turn.state, step) if step is not None else ()
    task = next((each for each in tasks if still_open(turn.state.facts, each)), tasks[-1] if tasks else None)
    if task is not None and task.stage.torque is not None:
        note_figure(turn, task.stage.torque.value, task.stage.torque.unit)


def tighten_step(turn: Turn) -> Step | None:
    """The step that tightens now, or the next one that will: the next torque can be asked ahead."""
    step = current_step(turn.state)
    if step is not None and step.tighten is not None:
        return step
    steps = fitted_steps(turn.state)
    at = [each.step for each in steps].index(step.step) if step is not None else 0
    closed = {row.entry.step for row in turn.state.facts.of(StepClosed)}
    return next((each for each in steps[at:] if each.tighten is not None and each.step not in closed), None)


def _limits(turn: Turn, _rest: str) -> None:
    step = current_step(turn.state)
    text = KINDS[step.kind].limits(turn.state, step) if step is not None else ""
    turn.say(text or "This step has no limits")


def _need(turn: Turn, _rest: str) -> None:
    step = current_step(turn.state)
    if step is None:
        turn.say("Nothing")
        return
    turn.say(listed(needs_of(turn, step), "and") or "Nothing in particular")


def needs_of(turn: Turn, step: Step) -> tuple[str, ...]:
    """What must be at hand for a step: what is listed, gauges, wrenches, compounds, counted parts."""
    procedure = turn.state.procedure
    things: list[str] = []
    if step.wait is not None:
        things.extend(step.wait.have_ready)
    if step.measure is not None and step.measure.instrument:
        things.append(procedure.instruments[step.measure.instrument].kind)
    for part in parts_of(step):
        group = procedure.groups[part.group]
        new = "new " if part.fasteners == "new" else ""
        things.append(f"{new}{group.what}{', ' + group.size if group.size else ''}")
        if part.wrench:
            things.append(f"wrench {part.wrench}")
    things.extend(procedure.consumables[name].what for name in step.uses)
    things.extend(f"{say_count(count.expected)} {count.what}" for count in counts_of(step))
    return tuple(things)


def _left(turn: Turn, _rest: str) -> None:
    step = current_step(turn.state)
    if step is None:
        turn.say("None")
        return
    counts = counts_owed(turn.state, step)
    text = KINDS[step.kind].left(turn.state, step)
    turn.say(text or (f"{say_count(len(counts))} counts" if counts else "Nothing is counted here"))


def _how_long(turn: Turn, _rest: str) -> None:
    turn.say(*(summary.windows(turn.state, turn.now) or ("No clock is running",)))


def _what_answer(turn: Turn, _rest: str) -> None:
    question, step = turn.state.talk.question, current_step(turn.state)
    if question is not None:
        turn.say(f"You can answer {listed(question.phrases)}" if question.phrases else "")
        words = {"reading": "A reading", "count": "A number", "spelling": "Letters and figures", "name": "A name",
                 "date": "The month and the year", "temperature": "A temperature",
                 "duration": "Hours and minutes"}  # fmt: skip
        turn.say(words.get(question.about, ""))
        if not question.phrases and question.about not in words:
            turn.say("In your own words")
        return
    if step is None:
        turn.say('"Close the build", or "where am I"')
        return
    kind = KINDS[step.kind]
    own = kind.phrases(turn.state, step)
    about = kind.about(turn.state, step)
    if "reading" in about:
        turn.say('The reading, a place and the reading, "measure again", "correction" and the reading')
        turn.say('"From the sheet" and the reading' if step.measure is not None and not step.witness else "")
    elif "spelling" in about:
        turn.say("Letters and figures, one by one")
    elif own:
        turn.say(listed(own))
    turn.say(
        'Or "skip because", "left for later", "say again"'
        if kind.by_itself
        else '"Done", "skip because", "left for later", "say again"'
    )


def _last_entry(turn: Turn, _rest: str) -> None:
    rows = [row for row in turn.state.facts.of(Reading) if row.entry.said]
    last = rows[-1].entry if rows else None
    turn.say(f"{say_place(last.place)}, {last.said}" if last is not None else "No reading yet")


def _what_open(turn: Turn, _rest: str) -> None:
    items = summary.everything_open(turn.state, turn.now)
    notes = [row.entry.text for row in turn.state.facts.of(Finding) if row.entry.what != "part missing"]
    turn.say(*(items or ("Nothing is loose, left for later or still inside",)), *(f"Finding: {text}" for text in notes))


def _what_remembered(turn: Turn, _rest: str) -> None:
    rows = [row.entry for row in turn.state.facts.of(Remembered) if not row.entry.observed]
    turn.say(*(entry.text for entry in rows[-3:]), *(() if rows else ("Nothing was kept",)))


ASKING = (
    Command(
        name="say again",
        says=(
            "say again",
            "again",
            "repeat that",
            "pardon",
            "say that again",
            "say it again",
            "come again",
            "once more",
            "what was that",
            "what did you say",
            "sorry what",
            "repeat",
        ),
        act=_again,
    ),
    Command(name="slower", says=("slower", "say it slower", "more slowly", "slow down", "too fast"), act=_slower),
    Command(name="faster", says=("faster", "speed up", "too slow"), act=_faster),
    Command(
        name="where am i",
        says=(
            "where am i",
            "where are we",
            "which step",
            "where was i",
            "where were we",
            "what step is this",
            "what am i doing",
            "which step is it",
        ),
        act=_where,
    ),
    Command(name="what's next", says=("what's next", "whats next", "what is next", "what comes next"), act=_next),
    Command(
        name="what torque",
        says=(
            "what torque",
            "what's the torque",
            "what is the torque",
            "what figure",
            "next torque",
            "how tight",
            "what was the torque",
            "what's the figure",
            "how much torque",
        ),
        act=say_torque,
    ),
    Command(
        name="what limits",
        says=("what limits", "what are the limits", "limits", "what should it be", "what's the spec"),
        act=_limits,
    ),
    Command(name="what do i need", says=("what do i need", "what's needed", "what do i need for this"), act=_need),
    Command(
        name="how many left",
        says=("how many left", "how many are left", "how many to go", "how many more", "what's left", "how many to do"),
        act=_left,
    ),
    Command(name="how long", says=("how long", "how long left", "how much time", "how long have i got"), act=_how_long),
    Command(
        name="what can i answer",
        says=("what can i answer", "what can i say", "help", "which words", "what words"),
        act=_what_answer,
    ),
    Command(name="last reading", says=("last reading", "what was the last reading"), act=_last_entry),
    Command(
        name="what's open",
        says=(
            "what's open",
            "what is open",
            "what's loose",
            "what is left for later",
            "what's still open",
            "what's left open",
            "what have i left",
            "anything open",
        ),
        act=_what_open,
    ),
    Command(name="what did i say", says=("what did i say", "what did i remember"), act=_what_remembered),
)
