"""Things used up at the bench: a new tube or can of a consumable."""

from benchvoice.session.commands.table import Command
from benchvoice.session.entries import Label
from benchvoice.session.labels import NEW_ONE, labelled, open_container
from benchvoice.session.plan import current_step
from benchvoice.session.questions import one_of
from benchvoice.session.turn import Turn


def _new_one(turn: Turn, _rest: str) -> None:
    """A new container of what this step uses, or else of what was used last."""
    step = current_step(turn.state)
    names = labelled(turn.state, step) if step is not None else ()
    if not names:
        last = turn.state.facts.last(Label)
        names = (last.entry.consumable,) if last is not None else ()
    if not names:
        turn.say("Nothing that was used here has a label to read")
        return
    if len(names) == 1:
        open_container(turn, names[0])
        return
    whats = {turn.state.procedure.consumables[name].what: name for name in names}
    turn.ask(one_of("which consumable", "Of which?", whats, lambda inner, what: open_container(inner, whats[what])))


MATERIALS = (Command(name="new tube", says=NEW_ONE, act=_new_one, moves=True),)
