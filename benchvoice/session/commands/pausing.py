"""Stopping, holding on, who is on, how loud, ending the day, closing the build."""

from benchvoice.session import summary
from benchvoice.session.closing import try_to_close
from benchvoice.session.commands.table import Command
from benchvoice.session.effects import Adjust, DropClip, End, Hush
from benchvoice.session.entries import CarriedOn, Device, Heard, Held, Person, Remembered, Unclear
from benchvoice.session.facts import Row
from benchvoice.session.names import is_name
from benchvoice.session.questions import free_words
from benchvoice.session.state import Question
from benchvoice.session.turn import Turn

CARRY_ON = ("carry on", "okay carry on", "carry on now", "continue")
STOP = "stop"
"""The command's name."""


def _stop(turn: Turn, _rest: str) -> None:
    """Silence at once; nothing moves, windows go on."""
    turn.do(Hush())


def _hold(turn: Turn, _rest: str) -> None:
    """What is asked waits, and is asked again whole; half a reading is dropped, and its place is asked again."""
    turn.write(Held())
    question = turn.state.talk.question
    if question is not None and question.name == "confirm reading":
        turn.talk(question=None)
    turn.say('Holding. Say "carry on"')


def _carry_on(turn: Turn, _rest: str) -> None:
    if turn.state.held:
        turn.write(CarriedOn())
    turn.talk(told=None, place=None)
    turn.say(summary.where(turn.state))


def _quieter(turn: Turn, _rest: str) -> None:
    turn.do(Adjust("quieter"))


def _louder(turn: Turn, _rest: str) -> None:
    turn.do(Adjust("louder"))


def _drop(turn: Turn, _rest: str) -> None:
    both: list[Row[Heard] | Row[Unclear]] = [*turn.state.facts.all(Heard), *turn.state.facts.all(Unclear)]
    rows = sorted(both, key=lambda row: row.n)
    kept = [row.entry.sound.clip for row in rows if row.entry.sound is not None]
    if len(kept) < 1:
        turn.say("There is no sound to drop")
        return
    clip = kept[-2] if len(kept) > 1 and turn.clip is not None else kept[-1]
    turn.write(Device(what="clip dropped", detail=clip))
    turn.do(DropClip(clip))
    turn.say("Dropped")


def take_over(turn: Turn, name: str) -> None:
    """Someone else is on from here: warnings are spoken in full again."""
    turn.write(Person(name=name, takes_over=turn.state.facts.person is not None))
    turn.say(f"{name} is on")
    turn.talk(warned=frozenset(), place=None, told=None)


_TAKING_OVER = (
    "'s taking over",
    " is taking over",
    "s taking over",
    " taking over",
    "'s taking over now",
    " is taking over now",
    " takes over",
)


def name_taking_over(text: str, known: tuple[str, ...] = ()) -> str | None:
    """The name in "Bo's taking over"; of someone who was on before also in "bo here", "bo is on", "this is bo"."""
    for tail in sorted(_TAKING_OVER, key=len, reverse=True):
        if text.endswith(tail) and len(text) > len(tail):
            name = text.removesuffix(tail).strip()
            return name if is_name(name) else None
    for name in known:
        if text in (f"{name} here", f"{name} is on", f"{name}'s on", f"this is {name}", f"it's {name} now"):
            return name
    return None


_SURE = frozenset({"yes", "yeah", "yep", "aye", "plugged", "covered", "capped"})
_PLUGGED = _SURE | {"they're", "they", "are", "it's", "all", "both", "and", ","}
_NOTHING = ("no", "nothing", "none", "nothing else", "no nothing", "that's all")


def _after_plugged(words: str) -> tuple[str, str]:
    """What says that ports are plugged, and the note that follows: "yes, all plugged, and order the gasket"."""
    said = words.replace(",", " , ").split()
    end = next((at for at, word in enumerate(said) if word not in _PLUGGED), len(said))
    if not _SURE & set(said[:end]):
        return "", words
    return " ".join(said[:end]).replace(" ,", ",").strip(" ,"), " ".join(said[end:]).replace(" ,", ",")


def _day_end(turn: Turn, _rest: str) -> None:
    """What stands open, the ports, and a note for next time; then the conversation ends."""
    turn.say(summary.where(turn.state), *summary.standing(turn.state, turn.now))
    turn.ask(_next_time("Open ports plugged? Anything to say first next time?"))


def _next_time(prompt: str) -> Question:
    """A note that is said first next time. That ports are plugged is kept too, and is no note."""

    def then(turn: Turn, words: str) -> None:
        plugged, note = _after_plugged(words)
        if plugged:
            turn.write(Remembered(text=f"open ports plugged: {plugged}", clip=turn.clip))
        if not note:
            turn.ask(_next_time("Anything to say first next time?"))
            return
        if note not in _NOTHING:
            turn.write(Remembered(text=note, next_time=True, clip=turn.clip))
        turn.say("Until next time")
        turn.do(End())

    return free_words("next time", prompt, then)


def _close(turn: Turn, _rest: str) -> None:
    if turn.state.closed:
        turn.say("The build is closed")
        return
    try_to_close(turn)


PAUSING = (
    Command(name=STOP, says=("stop", "wait", "quiet", "stop talking", "be quiet", "stop stop"), act=_stop),
    Command(
        name="hold on",
        says=(
            "hold on",
            "hang on",
            "hold on a minute",
            "hang on a minute",
            "hold on a second",
            "hang on a second",
            "wait a minute",
            "just a minute",
            "give me a minute",
        ),
        act=_hold,
    ),
    Command(name="carry on", says=CARRY_ON, act=_carry_on, moves=True),
    Command(name="quieter", says=("quieter", "softer", "not so loud", "too loud", "turn it down"), act=_quieter),
    Command(name="louder", says=("louder", "speak up", "turn it up", "too quiet", "i can't hear you"), act=_louder),
    Command(
        name="don't keep that",
        says=("don't keep that", "dont keep that", "do not keep that", "forget that", "don't record that"),
        act=_drop,
    ),
    Command(
        name="stopping for the day",
        says=(
            "stopping for the day",
            "stop for the day",
            "that's it for today",
            "stopping for today",
            "i'm stopping for the day",
            "calling it a day",
            "that's me for today",
            "packing up",
            "done for the day",
            "done for today",
        ),
        act=_day_end,
        while_asked=True,
    ),
    Command(
        name="close the build",
        says=("close the build", "close build", "close the build now", "the build is done"),
        act=_close,
        while_asked=False,
    ),
)
