"""Bringing in another build at a step: which one, what speaks against it, and what comes along.

The session reads no folder: it asks the edge to look, and is told in an event what is there. Nothing is kept until a
person has said which build it is; a kill before that asks again.
"""

from collections import Counter

from benchvoice.procedure.models import BringsIn, Step
from benchvoice.procedure.words import words_of
from benchvoice.session.effects import LookAtBuilds
from benchvoice.session.entries import BroughtIn, NotBroughtIn, Override
from benchvoice.session.events import BuildsSeen
from benchvoice.session.judging import judge_again
from benchvoice.session.other_builds import OtherBuild
from benchvoice.session.plan import answered, answers
from benchvoice.session.questions import NO, YES, listed, plain, reason
from benchvoice.session.state import Question
from benchvoice.session.sub_builds import answers_here, is_settled, marks_expected
from benchvoice.session.turn import Turn
from benchvoice.speech.say import say_count
from benchvoice.speech.spelling import say_mark

QUESTION = "bring in"
WITHOUT = ("none", "no build", "go on without it", "without it", "without", "go on without")
LOOK_AGAIN = ("look again", "look once more", "try again")
_TAKE = ("bring it in", "take it", "take it as it is", "bring it in as it is")
_LONG = 5
"""Names of so many words and more are taken and not listened for."""
_SPOKEN = 3
"""Items of each list that are said; the record has all."""


def ask_brought(turn: Turn, step: Step) -> bool:
    """Have the edge look for the build that a step brings in; False where that is settled or nothing comes in."""
    if step.brings_in is None or is_settled(turn.state.facts, step):
        return False
    turn.talk(done_said=None)  # "done" is no answer to it, and closes nothing afterwards
    look(turn, step)
    return True


def look(turn: Turn, step: Step) -> None:
    """Ask the edge what there is to bring in at a step."""
    wanted = step.brings_in
    assert wanted is not None
    turn.do(LookAtBuilds(step=step.step, what=wanted.what, title=wanted.procedure))


def offer(turn: Turn, event: BuildsSeen) -> None:
    """Ask which of the builds that were seen is meant; none there is noted, and the step goes on without."""
    step = turn.state.step(event.step or "")
    wanted = step.brings_in
    assert wanted is not None
    builds = event.builds
    if not builds:
        if not is_settled(turn.state.facts, step):
            turn.write(NotBroughtIn(step=step.step, what=wanted.what, reason="none was found"))
        turn.say(f"I find no {wanted.what} to bring in")
        return
    if len(builds) == 1 and builds[0].trouble:
        turn.ask(_only_trouble(step, wanted, builds[0]))
        return
    turn.ask(_which(step, wanted, builds))


def said_of(build: OtherBuild) -> str:
    """A build in a few words: its machine or its folder, whether it is closed, and the day of its last entry."""
    name = build.machine or _by_name(build)
    if build.trouble:
        return f"{name}, {_TROUBLE[build.trouble]}"
    return f"{name}, {'closed' if build.closed else 'not closed'}, last used {build.last}"


_TROUBLE = {"missing": "not there", "damaged": "damaged", "another log": "another log", "": ""}


def _by_name(build: OtherBuild) -> str:
    return " ".join(build.name.replace("-", " ").replace("_", " ").split()).lower()


def _called(build: OtherBuild) -> set[str]:
    """What a person may call a build: its machine and its folder, figures as they are said one by one."""
    return {" ".join(words_of(name)) for name in (build.machine or "", _by_name(build))} - {""}


def _which(step: Step, wanted: BringsIn, builds: tuple[OtherBuild, ...]) -> Question:
    """Which build: yes or no where there is one; else by number or by name."""
    names, alone = _names(builds), len(builds) == 1
    if alone:
        prompt = f"{wanted.what}: {said_of(builds[0])}. Bring it in, yes or no?"
        names |= dict.fromkeys((*YES, *_TAKE), builds[0])
    else:
        numbered = (f"{say_count(at).capitalize()}, {said_of(each)}" for at, each in enumerate(builds, 1))
        prompt = f"Which {wanted.what}? {'. '.join(numbered)}. Or none?"

    def take(turn: Turn, text: str) -> bool:
        build = names.get(" ".join(words_of(text)))
        if build is None:
            return _goes_without(turn, step, wanted, text, refused=NO if alone else ())
        turn.understood(QUESTION)
        turn.talk(question=None)
        _consider(turn, step, wanted, build)
        return True

    phrases = ("yes", "no", "none") if alone else (*(name for name in names if len(name.split()) < _LONG), "none")
    return Question(name=QUESTION, prompt=prompt, take=take, phrases=(*phrases, LOOK_AGAIN[0]))


def _names(builds: tuple[OtherBuild, ...]) -> dict[str, OtherBuild]:
    """Builds by number, and by machine and folder where only one has that name."""
    found = {say_count(at): each for at, each in enumerate(builds, 1)} if len(builds) > 1 else {}
    called = [(name, each) for each in builds for name in sorted(_called(each))]
    heard = Counter(name for name, _ in called)
    return found | {name: each for name, each in called if heard[name] == 1 and name not in found}


def _goes_without(turn: Turn, step: Step, wanted: BringsIn, text: str, *, refused: tuple[str, ...] = ()) -> bool:
    """None, with or without a reason; or look again. False for any other words."""
    if text in LOOK_AGAIN:
        turn.understood("look again")
        turn.talk(question=None)
        look(turn, step)
        return True
    words, _, because = text.partition("because ")
    if plain(words.strip(" ,")) not in (*WITHOUT, *refused):
        return False
    turn.understood("none brought in")
    turn.talk(question=None)
    turn.write(NotBroughtIn(step=step.step, what=wanted.what, reason=because.strip()))
    turn.say(f"Without the {wanted.what}")
    return True


def _only_trouble(step: Step, wanted: BringsIn, build: OtherBuild) -> Question:
    """The only build there is can't be brought in: going on without it takes a reason."""

    def without(turn: Turn, why: str) -> None:
        turn.write(NotBroughtIn(step=step.step, what=wanted.what, reason=why))
        turn.say("Noted, on page one")

    def take(turn: Turn, text: str) -> bool:
        words, because, why = f" {text}".partition(" because ")
        if text in LOOK_AGAIN:
            return _goes_without(turn, step, wanted, text)
        if plain(words.strip(" ,")) not in ("", *WITHOUT):
            return False
        turn.understood("none brought in")
        turn.talk(question=None)
        if because:
            without(turn, why.strip())
        else:
            turn.ask(reason("Why without it?", without))
        return True

    prompt = f"{build.fault}. It can't be brought in. Go on without it because …?"
    return Question(name=QUESTION, prompt=prompt, take=take, phrases=("because", WITHOUT[2], LOOK_AGAIN[0]))


# What speaks against it ----------------------------------------------------------------------------------------------


def objections(wanted: BringsIn, build: OtherBuild) -> tuple[str, ...]:
    """What a person must give a reason for before a build is brought in, in sentences."""
    found = []
    if wanted.procedure is not None and plain(build.title) != plain(wanted.procedure):
        found.append(f"it was built by {build.title}, not by {wanted.procedure}")
    if not build.closed:
        what = f": {listed(build.open_items[:_SPOKEN], 'and')}" if build.open_items else ""
        found.append(f"it isn't closed{what}")
    return tuple(found)


def _consider(turn: Turn, step: Step, wanted: BringsIn, build: OtherBuild) -> None:
    if build.trouble:
        turn.say(f"{build.fault}. It can't be brought in")
        return
    against = objections(wanted, build)
    if not against:
        bring(turn, step, build)
        return
    prompt = f"{wanted.what}: {'. '.join(against)}. Bring it in because …, or none?"

    def take(turn: Turn, text: str) -> bool:
        if _goes_without(turn, step, wanted, text, refused=NO):
            return True
        words, because, why = f" {text}".partition(" because ")
        if plain(words.strip(" ,")) not in ("", *_TAKE, *YES):
            return False
        turn.understood(QUESTION)
        turn.talk(question=None)
        _with_reason(turn, step, build, against, why.strip() if because else "")
        return True

    turn.ask(Question(name=QUESTION, prompt=prompt, take=take, phrases=("bring it in because", "because", "none")))


def _with_reason(turn: Turn, step: Step, build: OtherBuild, against: tuple[str, ...], why: str) -> None:
    if not why:
        turn.ask(reason("Why?", lambda inner, said: _with_reason(inner, step, build, against, said)))
        return
    bring(turn, step, build, against, why)


# Bringing it in ------------------------------------------------------------------------------------------------------


def bring(
    turn: Turn,
    step: Step,
    build: OtherBuild,
    against: tuple[str, ...] = (),
    why: str = "",
    *,
    replaces: int | None = None,
) -> None:
    """Keep a build as it is now with all that comes along, answer what it answers, and say it in a breath."""
    wanted = step.brings_in
    assert wanted is not None
    n = turn.write(
        BroughtIn(
            step=step.step,
            what=wanted.what,
            build=build.name,
            folder=build.folder,
            head=build.head,
            lines=build.lines,
            title=build.title,
            machine=build.machine,
            closed=build.closed,
            open_items=build.open_items,
            owed=build.owed,
            marks=build.marks,
            choices=build.choices,
            computed=build.computed,
            replaces=replaces,
        )
    )
    for each in against:
        turn.write(Override(what=f"{wanted.what}: {each}", reason=why, step=step.step, entry=n))
    turn.say(f"{wanted.what} brought in")
    _answer(turn, step, build, n)
    _say_marks(turn, wanted, build)
    for word, items in (("Open there", build.open_items), ("Owed there", build.owed)):
        if items:
            more = f" and {say_count(len(items) - _SPOKEN)} more" if len(items) > _SPOKEN else ""
            turn.say(f"{word}: {', '.join(items[:_SPOKEN])}{more}")


def _answer(turn: Turn, step: Step, build: OtherBuild, n: int) -> None:
    """Answer particulars and choices by those of the other build; what is no answer here is said and asked."""
    there, changed = dict(build.choices), False
    for name, known in answers_here(turn.state, step).items():
        what, answer = name.replace("_", " "), there.get(name)
        if answer is None:
            turn.say(f"It has no {what}")
            continue
        if answer not in known:
            turn.say(f"{what} there: {answer}, which is no answer here")
            continue
        was = answers(turn.state.facts).get(name)
        turn.write(answered(turn.state.procedure, name, answer, step.step, brought_in=n))
        changed = True
        turn.say(f"{what}: {answer}{f', and was {was}' if was not in (None, answer) else ''}")
    if changed:
        judge_again(turn)


def _say_marks(turn: Turn, wanted: BringsIn, build: OtherBuild) -> None:
    """Say marks, but for those that a person is still to read here, which nothing may suggest."""
    to_read = marks_expected(turn.state.procedure)
    for name in wanted.marks:
        mark = next((each for each in build.marks if each.step == name), None)
        if mark is None:
            turn.say(f"It has no mark {name.replace('_', ' ')}")
        elif name not in to_read:
            turn.say(f"{mark.read}: {say_mark(mark.value)}")
