"""The form of a command, and finding the one that an utterance is."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from benchvoice.session.state import State
from benchvoice.session.turn import Turn


@dataclass(frozen=True, slots=True, kw_only=True)
class Command:
    """Something that can be said at any time.

    name: its one form, which the help lists.
    says: whole utterances that mean it, natural variants included.
    leads: openings that are followed by words of the person's own ("skip because …").
    act: does it; gets the words that follow the opening, or "".
    moves: whether the work may go on afterwards (the next thing is then asked); questions and settings don't.
    while_asked: whether it is taken while an answer is waited for. What changes the build waits for the answer.
    fits: whether the words that follow an opening can belong to it; other words are none of this command.
    whole: whether a whole utterance is this command by its form, with no opening ("twenty five h seven g six").
    heard: what the ear listens for just now, in place of every form; the fewer words, the better it hears the rest.
    """

    name: str
    act: Callable[[Turn, str], None]
    says: tuple[str, ...] = ()
    leads: tuple[str, ...] = ()
    moves: bool = False
    while_asked: bool = True
    fits: Callable[[str], bool] = lambda _rest: True
    whole: Callable[[str], bool] = lambda _text: False
    heard: Callable[[State], tuple[str, ...]] | None = None

    def phrases(self, state: State) -> tuple[str, ...]:
        """What the ear listens for, for this command."""
        return (*self.says, *self.leads) if self.heard is None else self.heard(state)

    @property
    def changes(self) -> bool:
        """Whether it can change the build: none of these is taken once the build is closed."""
        return self.moves or not self.while_asked


@dataclass(frozen=True, slots=True)
class Found:
    """A command and the words that follow its opening."""

    command: Command
    rest: str
    lead: str = ""
    by_form: bool = False
    """Whether the whole utterance is it by its form: it has no opening."""

    @property
    def unmistakable(self) -> bool:
        """Whether it is a command even where any words are an answer: said alone, or by an opening like no other."""
        return not self.rest or self.with_reason or self.lead in _UNMISTAKABLE

    @property
    def with_reason(self) -> bool:
        """Whether its opening ends with "because": whatever follows is the reason, figures too."""
        return self.lead.endswith(" because")


_UNMISTAKABLE = frozenset({"go back to", "correction", "finding", "remember"})


def find(commands: Iterable[Command], text: str) -> Found | None:
    """The command that the whole utterance is; the longest opening wins."""
    best: Found | None = None
    length = -1
    text = text.replace(", because ", " because ")
    bare = text.replace(",", "")
    for command in commands:
        if bare in command.says:
            return Found(command, "")
        if length < 0 and command.whole(text):
            best, length = Found(command, text, by_form=True), 0
        for lead in command.leads:
            rest = text.removeprefix(lead + " ").strip()
            if text.startswith(lead + " ") and len(lead) > length and command.fits(rest):
                best, length = Found(command, rest, lead), len(lead)
    return best
