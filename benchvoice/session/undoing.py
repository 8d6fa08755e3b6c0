"""What undoing steps takes apart and spends, in words: said before it is done, and after a failed check."""

from benchvoice.session.entries import Tightened, WindowStarted
from benchvoice.session.fasteners import whole_order
from benchvoice.session.moves import Undone
from benchvoice.session.plan import title_of
from benchvoice.session.questions import listed
from benchvoice.session.state import State
from benchvoice.speech.say import say_count


def undone_words(state: State, undone: Undone) -> tuple[str, ...]:
    """What doesn't count any more, and in which order to slacken, in sentences."""
    said = []
    for group in undone.groups:
        stages = sorted(
            {
                row.entry.stage
                for row in undone.rows
                if getattr(row.entry, "group", None) == group and hasattr(row.entry, "stage")
            }
        )
        what = state.procedure.groups[group].what
        names = listed((say_count(stage) for stage in stages), "and")
        plural = "stages" if len(stages) > 1 else "stage"
        verb = "don't" if len(stages) > 1 else "doesn't"
        said.append(f"{what}, {plural} {names} {verb} count any more")
        if any(isinstance(row.entry, Tightened) and row.entry.stage_kind == "drag" for row in undone.rows):
            said.append("What was crushed is spent: never slacken it back")
        else:
            said.append(f"Slacken {say_count(len(whole_order(state.procedure, group)))} to one")
    return (*said, *_spent_words(state, undone))


def _spent_words(state: State, undone: Undone) -> tuple[str, ...]:
    """What can't be used again: fasteners that are new each time, and what was spread or wetted."""
    rows = [row.entry for row in undone.rows if isinstance(row.entry, Tightened)]
    final = {entry.group for entry in rows if entry.purpose == "final"}
    groups = [state.procedure.groups[name] for name in undone.groups if name in final]
    said = [f"{group.what} are spent: new ones" for group in groups if group.new_each_time]
    for row in undone.rows:
        if isinstance(row.entry, WindowStarted) and row.entry.sort == "open time":
            step = state.step(row.entry.window)
            used = [state.procedure.consumables[name].what for name in step.uses] or [title_of(step)]
            said += [f"{what} is spent: clean it off" for what in used]
    return tuple(dict.fromkeys(said))
