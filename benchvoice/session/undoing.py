"""What undoing steps takes apart and spends, in words: said before it is done, and after a failed check."""

from benchvoice.procedure.models import Group
from benchvoice.session.entries import Slackened, StepClosed, Tightened, WindowStarted
from benchvoice.session.facts import Row
from benchvoice.session.fasteners import whole_order
from benchvoice.session.moves import Undone
from benchvoice.session.plan import title_of
from benchvoice.session.questions import listed
from benchvoice.session.state import State
from benchvoice.speech.say import say_count


def undone_words(state: State, undone: Undone) -> tuple[str, ...]:
    """What doesn't count any more, in which order to slacken, and what comes apart, in sentences."""
    said = []
    for group in undone.groups:
        rows = _tight(state, undone, group)
        if not rows:
            continue
        stages = sorted({row.entry.stage for row in rows})
        trial = "" if any(row.entry.purpose == "final" for row in rows) else ", trial"
        names = listed((say_count(stage) for stage in stages), "and")
        plural, verb = ("stages", "don't") if len(stages) > 1 else ("stage", "doesn't")
        said.append(f"{state.procedure.groups[group].what}{trial}, {plural} {names} {verb} count any more")
        if any(row.entry.stage_kind == "drag" for row in rows):
            said.append("What was crushed is spent: never slacken it back")
        elif len(whole_order(state.procedure, group)) > 1:
            said.append(f"Slacken {say_count(len(whole_order(state.procedure, group)))} to one")
        else:
            said.append("Slacken it")
    return (*said, *_apart_words(state, undone), *_spent_words(state, undone))


def _tight(state: State, undone: Undone, group: str) -> tuple[Row[Tightened], ...]:
    """What is tight of a group: done, and not slackened by a step since."""
    slackened = (*state.facts.of(Slackened), *undone.of(Slackened))
    since = max((row.n for row in slackened if row.entry.group == group), default=0)
    rows = (row for row in undone.of(Tightened) if row.entry.group == group and row.n > since)
    return tuple(row for row in rows if row.entry.outcome == "done")


def _apart_words(state: State, undone: Undone) -> tuple[str, ...]:
    """What was put over something else and comes off again, the last first."""
    closed = [state.step(row.entry.step) for row in undone.of(StepClosed) if row.entry.how == "done"]
    over = [title_of(step) for step in reversed(closed) if step.buries and step.tighten is None]
    return (f"Comes apart: {listed(over, 'then')}",) if over else ()


def _spent_words(state: State, undone: Undone) -> tuple[str, ...]:
    """What can't be used again: fasteners that are new each time, and what was spread or wetted."""
    final = {row.entry.group for row in undone.of(Tightened) if row.entry.purpose == "final"}
    groups = [state.procedure.groups[name] for name in undone.groups if name in final]
    said = [_spent_group(group) for group in groups if group.new_each_time]
    for row in undone.of(WindowStarted):
        if row.entry.sort == "open time":
            step = state.step(row.entry.window)
            used = [state.procedure.consumables[name].what for name in step.uses] or [title_of(step)]
            said += [f"{what} is spent: clean it off" for what in used]
    return tuple(dict.fromkeys(said))


def _spent_group(group: Group) -> str:
    return f"{group.what} are spent: new ones" if len(group.positions) > 1 else f"{group.what} is spent: a new one"
