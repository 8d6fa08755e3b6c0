"""What people say and hear: answers that are no commands, questions with one meaning, sides with a viewpoint."""

import re
from collections.abc import Iterator

from benchvoice.procedure.faults import listed
from benchvoice.procedure.models import Step
from benchvoice.procedure.rules.book import Book, Finding, graded_of
from benchvoice.procedure.source import Path

COMMANDS = frozenset(
    (
        "done", "next", "again", "say again", "slower", "back", "go back", "skip", "wrong", "disregard", "stop", "wait",
        "hold on", "carry on", "quieter", "louder", "what's next", "where am i", "lost my place", "what torque",
        "what limits", "what do i need", "how many left", "how long", "what can i answer", "left for later",
        "measure again", "finding", "remember", "correction", "part missing", "stripped", "broken",
        "stopping for the day", "close the build", "don't keep that", "understood",
    )
)  # fmt: skip
"""What can be said at any time: an answer of the same words could never be given."""
LONGEST_SAID = 220
"""More characters than this at one go are hard to keep in mind."""

_SIDES = re.compile(r"\b(left|right)\b(?! way)", re.IGNORECASE)
_TURNING = re.compile(r"\b(anti)?clockwise\b", re.IGNORECASE)


def findings(book: Book) -> Iterator[Finding]:
    """Answers that can't be told from commands or from each other."""
    for name, particular in book.procedure.particulars.items():
        yield from _answers(("particulars", name, "choices"), particular.choices)
    for _, path, step in book.steps:
        for where, graded in graded_of(path, step):
            yield from _answers(where, (*graded.passes, *graded.further, *graded.fails))
        yield from _answers(path, tuple(phrase for phrase in _phrases(step)))


def advice(book: Book) -> Iterator[Finding]:
    """What is long to listen to, and sides whose viewpoint nobody said."""
    ends = book.procedure.which_end
    for _, path, step in book.steps:
        for field, text in _said(step):
            if len(text) > LONGEST_SAID:
                what = f"{len(text)} characters to listen to at one go"
                yield Finding((*path, field), what, "say it in fewer words, or in two steps", True)
            if ends.left_right is None and _SIDES.search(text):
                yield Finding((*path, field), "left or right, seen from where?", "add which_end: left_right", True)
            if ends.turning is None and _TURNING.search(text):
                yield Finding((*path, field), "clockwise, seen from where?", "add which_end: turning", True)


def _phrases(step: Step) -> Iterator[str]:
    if step.wait is not None and step.wait.starts_at is not None:
        yield step.wait.starts_at
    if step.ban is not None:
        yield from step.ban.broken_by


def _said(step: Step) -> Iterator[tuple[str, str]]:
    for field in ("tell", "say", "warning", "caution", "which_way_up", "standing_order"):
        text = getattr(step, field)
        if text is not None:
            yield field, text


def _answers(path: Path, answers: tuple[str, ...]) -> Iterator[Finding]:
    plain = [plain_words(answer) for answer in answers]
    for answer in plain:
        if answer in COMMANDS:
            yield Finding(path, f"{answer} is a command and can't be an answer", "use another word")
    twice = sorted({answer for answer in plain if plain.count(answer) > 1})
    if twice:
        yield Finding(path, f"{listed(twice)} comes twice", "give each answer one meaning")


def plain_words(text: str) -> str:
    """Words as they are heard: lower case, no hyphens, no full stop."""
    return " ".join(re.sub(r"[^a-z0-9' ]", " ", text.lower()).split())
