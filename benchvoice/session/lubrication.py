"""What is on the threads: asked before a group's first stage where the procedure declares it.

A figure is for one condition. Another one is warned about, and the figure is never changed: only the maker knows the
other figure. It waits for an override with a reason, or until what is on the threads was changed.
"""

from benchvoice.procedure.models import Step
from benchvoice.session.entries import NoLongerCounts, Override, ThreadFound
from benchvoice.session.facts import Facts, Row
from benchvoice.session.fasteners import Task, current_task
from benchvoice.session.questions import all_the_same, free_words
from benchvoice.session.state import Question
from benchvoice.session.turn import Turn
from benchvoice.tighten.lubricant import condition_of, lubricant_warning

CONDITIONS = (
    *("dry", "zinc plating", "locking compound", "oiled", "greased", "copper grease", "moly grease"),
    *("something else", "i don't know"),
)
"""What may be said, in words that the ear has. Their usual other names are taken too."""
UNKNOWN = ("i don't know", "don't know", "not known", "nobody knows")
OTHER = ("something else", "none of those", "another one")
CHANGED = ("change it", "changed", "i'll change it", "i changed it", "changed it")
ALL_THE_SAME = ("go on", "go on as it is", "use it", "use it anyway", "use it as it is")
LEADS = ("they're ", "they are ", "it's ", "it is ")


def on_threads(facts: Facts, group: str) -> Row[ThreadFound] | None:
    """What was said last to be on the threads of a group, at any step that asked; None where none did."""
    rows = [row for row in facts.of(ThreadFound) if row.entry.group == group]
    return rows[-1] if rows else None


def ask_thread(turn: Turn, step: Step) -> bool:
    """Ask what is on the threads before a group is tightened, or about what is not as asked; False where all is."""
    task = current_task(turn.state, step)
    if task is None or not task.part.ask_thread:
        return False
    rows = [row for row in turn.state.facts.of(ThreadFound) if _is_of(row.entry, task)]
    if not rows:
        turn.ask(_question(task))
        return True
    warning = _warning(task, rows[-1].entry)
    overridden = {row.entry.entry for row in turn.state.facts.of(Override)}
    if warning and rows[-1].n not in overridden:
        turn.ask(_other_question(task, rows[-1], warning))
        return True
    return False


def _is_of(entry: ThreadFound, task: Task) -> bool:
    return (entry.step, entry.group) == (task.step.step, task.part.group)


def _warning(task: Task, found: ThreadFound) -> str | None:
    """What to say of threads that are not in the condition asked now; None where they are."""
    asked = task.part.thread or ""
    if found.condition is None:
        return f"The figure is for {asked}, and nobody knows what is on these. I don't change the figure."
    return lubricant_warning(asked, found.condition)


def _question(task: Task) -> Question:
    def take(turn: Turn, text: str) -> bool:
        return _take(turn, task, text)

    prompt = f"What is on the threads of the {task.group.what}?"
    return Question(name="thread", prompt=prompt, take=take, phrases=CONDITIONS)


def _take(turn: Turn, task: Task, text: str) -> bool:
    said = _bare(text)
    known = condition_of(said)
    if known is not None or said in UNKNOWN:
        turn.understood("thread")
        _note(turn, task, known.name if known is not None else None, text)
        return True
    if said not in OTHER:
        return False
    turn.understood("thread, something else")
    turn.ask(free_words("thread", "What is it?", lambda inner, words: _note(inner, task, words, words)))
    return True


def _bare(text: str) -> str:
    return next((text.removeprefix(lead) for lead in LEADS if text.startswith(lead)), text)


def _note(turn: Turn, task: Task, condition: str | None, said: str) -> None:
    asked = task.part.thread
    assert asked is not None
    turn.write(
        ThreadFound(step=task.step.step, group=task.part.group, condition=condition, asked=asked, said=said)
    )
    turn.talk(question=None)
    turn.say(condition or "Not known")


def _other_question(task: Task, row: Row[ThreadFound], warning: str) -> Question:
    """Not the condition that the figure is for: changed, or gone on with for a reason that stands on page one."""

    def take(turn: Turn, text: str) -> bool:
        if text in CHANGED or condition_of(_bare(text)) is not None:
            what = f"{task.group.what}, {row.entry.condition or 'not known'}"
            turn.understood("thread changed")
            turn.write(NoLongerCounts(entries=(row.n,), what=what, reason="changed"))
            turn.talk(question=None)
            return text in CHANGED or _take(turn, task, text)
        return all_the_same(
            turn, text, ALL_THE_SAME, "thread as it is", lambda inner, why: _override(inner, task, row, why)
        )

    prompt = f"{warning} Change it, or go on because …?"
    return Question(name="other thread", prompt=prompt, take=take, phrases=("change it", "go on", "because"))


def _override(turn: Turn, task: Task, row: Row[ThreadFound], why: str) -> None:
    what = f"{task.group.what}: threads {row.entry.condition or 'not known'}, the figures are for {task.part.thread}"
    turn.write(Override(what=what, reason=why, step=task.step.step, entry=row.n))
    turn.talk(question=None)
    turn.say("Noted, on page one")
