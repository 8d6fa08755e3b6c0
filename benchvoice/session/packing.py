"""Packs from the tray: proposed the best first, taken on a yes, out of the stock from then on.

Whatever makes the entry void (taking back, going back, a part that is replaced) puts the pieces back in the tray.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal

from benchvoice.procedure.models import Step
from benchvoice.quantity.packs import BadStock, Pack
from benchvoice.session.entries import NoLongerCounts, PackTaken
from benchvoice.session.questions import NO, YES, listed
from benchvoice.session.sources import computed_row
from benchvoice.session.state import Question, State
from benchvoice.session.stock import (
    Wanted,
    Way,
    packs_owed,
    say_names,
    say_none,
    say_pack,
    say_wanted,
    say_way,
    standing_packs,
    wanted_by,
    ways_for,
)
from benchvoice.session.turn import Turn, join
from benchvoice.speech.say import say_count, say_place

NEXT = ("the next", "next way", "another", "another way", "what else")
Then = Callable[[Turn], None]


def nothing_more(_turn: Turn) -> None:
    """What follows a pack that was taken where the step goes on by itself."""


@dataclass(frozen=True, slots=True)
class Offer:
    """Ways to make what is wanted, the best first; how each is said; what follows once one is taken."""

    step: str
    wanted: Wanted
    ways: tuple[Way, ...]
    say: Callable[[Way], str]
    then: Then = nothing_more
    reason: str = ""
    first: str = ""
    """What is said before the first way only."""

    def question(self, at: int = 0) -> Question:
        """Take this way, or hear the next?"""

        def take(turn: Turn, text: str) -> bool:
            if text in YES:
                turn.understood("pack taken")
                turn.talk(question=None)
                take_packs(turn, self, self.ways[at])
                self.then(turn)
                return True
            if text not in (*NO, *NEXT):
                return False
            turn.understood("next pack")
            if at + 1 == len(self.ways):
                turn.say("That was the last. From the best again")
            turn.ask(self.question((at + 1) % len(self.ways)))
            return True

        more = "" if len(self.ways) == 1 else f", or the next of {say_count(len(self.ways))}"
        opening = self.first if at == 0 else ""
        prompt = join((opening, self.say(self.ways[at]), f"Take it: yes or no{more}?"))
        return Question(name="pack", prompt=prompt, take=take, phrases=("yes", "no", NEXT[0]))


def every_way(state: State, wanted: Wanted) -> tuple[Way, ...]:
    """Every way to make what is wanted; none where it is so wide that it can't be meant."""
    try:
        return ways_for(state, wanted)
    except BadStock:
        return ()


def ask_pack(turn: Turn, step: Step) -> bool:
    """Propose the next pack that a step owes, or say what is missing for it; False when it owes none."""
    owed = packs_owed(turn.state, step)
    if not owed:
        return False
    wanted = owed[0]
    ways = every_way(turn.state, wanted)
    if ways:
        turn.ask(_offer(step, wanted, ways).question())
        return True
    missing = (say_wanted(wanted), *say_none(turn.state, wanted))
    told = " ".join(missing)
    if turn.state.talk.told != told:
        turn.talk(told=told)
        turn.say(*missing)
    return True


def _offer(step: Step, wanted: Wanted, ways: tuple[Way, ...], then: Then = nothing_more, reason: str = "") -> Offer:
    def say(way: Way) -> str:
        return say_way(wanted, way)

    return Offer(step.step, wanted, ways, say, then, reason, say_wanted(wanted))


def take_packs(turn: Turn, offer: Offer, way: Way) -> None:
    """Write the packs of a way as taken; what stood under the same names goes back in the tray first."""
    wanted, before = offer.wanted, standing_packs(turn.state.facts)
    old = [before[name, wanted.place] for name in wanted.names if (name, wanted.place) in before]
    if old:
        names = listed((row.entry.pack for row in old), "and")
        why = offer.reason or "another pack"
        turn.write(NoLongerCounts(entries=tuple(row.n for row in old), what=names, reason=f"{why}; back in the tray"))
    for name, pack in zip(wanted.names, way, strict=True):
        turn.write(
            PackTaken(
                step=offer.step,
                pack=name,
                place=wanted.place,
                stock=wanted.stock,
                pieces=pack.pieces,
                total=pack.total,
                unit=wanted.unit,
                low=wanted.low,
                high=wanted.high,
                reading=wanted.reading,
                reason=offer.reason,
            )
        )
    turn.say(f"{say_names(wanted)} taken")


def recall_packs(state: State, step: str) -> tuple[str, ...]:
    """The packs that were taken at a step, piece by piece, in sentences."""
    return tuple(
        f"{_called(row.entry)}: {say_pack(Pack(row.entry.pieces, row.entry.total), row.entry.unit)}"
        for row in standing_packs(state.facts).values()
        if row.entry.step == step
    )


def _called(entry: PackTaken) -> str:
    return ", ".join(filter(None, (entry.pack, say_place(entry.place))))


def ask_pack_on_way_out(turn: Turn, step: Step, then: Then) -> bool:
    """Choose the pack that a step's way out names, before going back; False where there is none to choose.

    The value was read with the pack that is fitted: what is wanted is that pack and the value together. The new pack
    is not bound to the value, whose readings it spoils by being fitted.
    """
    wanted = wanted_on_way_out(turn.state, step)
    if wanted is None:
        return False
    now = _fitted(turn.state, wanted)
    ways = tuple(way for way in every_way(turn.state, wanted) if way[0].total != now)
    if not ways:
        turn.say(*say_none(turn.state, wanted))
        return False
    turn.ask(_offer(step, wanted, ways, then).question())
    return True


def wanted_on_way_out(state: State, step: Step) -> Wanted | None:
    """The pack that a step's way out would choose, by what was read there; None where it names none."""
    name = step.measure.out.pack if step.measure is not None and step.measure.out is not None else None
    row = computed_row(state.facts, step.step, name, ()) if name is not None else None
    if step.measure is None or name is None or row is None:
        return None
    wanted = wanted_by(state, name, step.measure.computed[name], row)
    now = _fitted(state, wanted)
    return replace(wanted, low=wanted.low + now, high=wanted.high + now, fewest=0, reading=None)


def _fitted(state: State, wanted: Wanted) -> Decimal:
    """How thick the pack is that is fitted now."""
    row = standing_packs(state.facts).get((wanted.names[0], ()))
    return row.entry.total if row is not None else Decimal(0)
