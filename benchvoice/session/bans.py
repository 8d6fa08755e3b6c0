"""Bans: said where they begin, and before every step inside that could break them; what follows when one is broken."""

from collections.abc import Iterable

from benchvoice.procedure.models import Ban, Step
from benchvoice.session.entries import BanBroken, BanOn
from benchvoice.session.facts import Row
from benchvoice.session.moves import bans_on
from benchvoice.session.plan import title_of, trial_around
from benchvoice.session.questions import plain
from benchvoice.session.readings import taken
from benchvoice.session.state import State
from benchvoice.session.turn import Turn

_MOVING = frozenset({"tell", "check", "tighten", "slacken", "which_way_up"})
"""Kinds of steps in which hands move parts: each could break a ban."""
_WHO = ("i", "we", "i've", "someone", "somebody")
_BY_MISTAKE = (" by accident", " by mistake")


def say_bans(turn: Turn, step: Step) -> None:
    """Begin the step's own ban, and say again those in force that this step could break."""
    for row in bans_on(turn.state):
        if row.entry.ban != step.step and _could_break(step, row.entry):
            turn.say(f"Still no {row.entry.what}")
    if step.ban is None:
        return
    if all(row.entry.ban != step.step for row in bans_on(turn.state)):
        turn.write(BanOn(ban=step.step, what=step.ban.what, until=step.ban.until))
    until = f" until {title_of(turn.state.step(step.ban.until))}" if step.ban.until else ""
    turn.say(f"From here: no {step.ban.what}{until}")


def _could_break(step: Step, ban: BanOn) -> bool:
    """A ban up to some step: every step inside where hands move parts. A standing one: steps that speak of the act."""
    if ban.until is not None:
        return step.kind in _MOVING and step.step != ban.until
    return _stem(ban.what) in plain(f" {step.say or ''} {step.tell or ''} {step.check.ask if step.check else ''}")


def _stem(what: str) -> str:
    """The act without its ending, as a word begins with it: " turn" of "turning the crank"."""
    return f" {plain(what).split()[0].removesuffix('ing')}"


def ban_words(ban: Ban) -> tuple[str, ...]:
    """What says that a ban was broken: the document's own words, and "i turned it" of a ban on turning it."""
    act, _, rest = plain(ban.what).partition(" ")
    said = [*ban.broken_by, "i broke the ban", "broke the ban"]
    if act.endswith("ing") and act.removesuffix("ing") in _REGULAR:
        past = act.removesuffix("ing") + "ed"
        thing = " ".join(rest.split()[:2]) if rest.startswith("the ") else ""
        said += [f"{who} {past} it" for who in _WHO]
        said += [f"{who} {past} {thing}" for who in _WHO if thing] + [f"{thing} {past}" for _ in (1,) if thing]
    return tuple(dict.fromkeys(said))


_REGULAR = frozenset({"turn", "lift", "mov", "slacken", "open", "touch", "press", "knock", "push", "pull"})
"""Acts whose past is made with "ed"."""


def broken_ban(state: State, text: str) -> Row[BanOn] | None:
    """The ban in force that these words say was broken."""
    said = plain(text).removeprefix("sorry ")
    for tail in _BY_MISTAKE:
        said = said.removesuffix(tail)
    return next((row for row, ban in _declared(state) if said in {plain(words) for words in ban_words(ban)}), None)


def _declared(state: State) -> Iterable[tuple[Row[BanOn], Ban]]:
    """Bans in force with what the document says of them; an amended document may have dropped one."""
    for row in bans_on(state):
        ban = next((step.ban for step in state.procedure.steps if step.step == row.entry.ban), None)
        if ban is not None:
            yield row, ban


def sayable_breaks(state: State) -> tuple[str, ...]:
    """Everything that says now that a ban was broken, for the ear."""
    return tuple(words for _, ban in _declared(state) for words in ban_words(ban))


def break_ban(turn: Turn, row: Row[BanOn]) -> None:
    """Say the damage, and open again exactly the readings that it spoils: which they are is asked.

    In a trial assembly it spoils what is not read yet, too.
    """
    ban = turn.state.step(row.entry.ban).ban
    assert ban is not None
    trial = trial_around(turn.state.procedure, row.entry.ban)
    spoilt = tuple(name for name in ban.spoils if name in trial or taken(turn.state.facts, name))
    turn.write(BanBroken(ban=row.entry.ban, what=row.entry.what, damage=ban.damage or "", spoils=spoilt))
    turn.say(f"The ban is broken: no {row.entry.what}", ban.damage or "")
    if spoilt:
        turn.talk(question=None)
