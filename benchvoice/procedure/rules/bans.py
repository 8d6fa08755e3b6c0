"""Bans and trials: begun and ended for every machine, and not broken by the document's own steps."""

import re
from collections.abc import Iterator

from benchvoice.procedure.models import Ban, Step
from benchvoice.procedure.rules.book import Book, Finding, asked_of, graded_of, is_fitted, parts_of
from benchvoice.procedure.source import Path

_TURN = re.compile(r"\b(turn|rotat|spin|revolv|crank it|bar it)", re.IGNORECASE)


def findings(book: Book) -> Iterator[Finding]:
    """Checks and hold points that ask for what is banned."""
    for at, _, step in book.steps:
        if step.ban is None or step.ban.until is None or step.ban.until in book.unsure:
            continue
        end = book.at(step.ban.until)
        for inner, path, other in book.steps:
            if at < inner <= end and not _apart(step, other):
                yield from _broken(step.ban, step.step, path, other)


def whole(book: Book) -> Iterator[Finding]:
    """Bans that some machine's build never lifts, and trials that are not ended."""
    for _, path, step in book.steps:
        if step.ban is not None and step.ban.until is not None:
            yield from _never_lifted(book, path, step, step.ban.until)
    yield from _trials(book)


def _apart(step: Step, other: Step) -> bool:
    """Whether two steps are never on one machine: they want different answers to the same question."""
    return any(not set(values) & set(other.when.get(name, values)) for name, values in step.when.items())


def _broken(ban: Ban, name: str, path: Path, step: Step) -> Iterator[Finding]:
    for where, graded in graded_of(path, step):
        if _asks_for(ban.what, graded.ask):
            what = f"this asks for {ban.what}, which {name} bans until {ban.until}"
            yield Finding((*where, "ask"), what, "move the check out of the ban, or lift the ban before it")
        elif where[-1] == "hold_point":
            what = f"a hold point while {ban.what} is banned"
            yield Finding(where, what, "make sure that it needs none of it", True)


def _asks_for(banned: str, question: str) -> bool:
    """Whether a question's words ask for the banned act: its first word, whatever its ending."""
    if _TURN.search(banned):
        return _TURN.search(question) is not None
    act = banned.split()[0].lower()
    stem = act.removesuffix("ing")
    stem = stem[:-1] if len(stem) > 3 and stem[-1] == stem[-2] else stem
    return len(stem) > 2 and re.search(rf"\b{re.escape(stem)}", question.lower()) is not None


def _never_lifted(book: Book, path: Path, step: Step, until: str) -> Iterator[Finding]:
    lifts = book.step(until)
    if lifts is None:
        return
    for answers in book.machines(asked_of((step, lifts))):
        if is_fitted(step, answers) and not is_fitted(lifts, answers):
            said = ", ".join(f"{name} is {answer}" for name, answer in answers.items())
            what = f"the ban is never lifted when {said}: {until} is then left out"
            yield Finding((*path, "ban", "until"), what, "name a step that every such build has")
            return


def _trials(book: Book) -> Iterator[Finding]:
    """Trials start before they end, one at a time, and hold no final tightening."""
    open_: tuple[Path, Step] | None = None
    for _, path, step in book.steps:
        if step.trial == "starts":
            if open_ is not None:
                what = f"the trial that {open_[1].step} starts is not ended yet"
                yield Finding((*path, "trial"), what, "end it first with trial: ends")
            open_ = (path, step)
        elif open_ is not None:
            for where, part in parts_of(path, step):
                if part.purpose == "final":
                    what = f"final tightening inside the trial that {open_[1].step} starts"
                    yield Finding((*where, "purpose"), what, "write purpose: trial, or end the trial before it")
        if step.trial == "ends":
            if open_ is None:
                yield Finding((*path, "trial"), "no trial is going on here", "start it before with trial: starts")
            open_ = None
    if open_ is not None:
        yield Finding((*open_[0], "trial"), "this trial is never ended", "end it in a later step with trial: ends")
