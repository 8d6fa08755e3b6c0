"""Questions that several step kinds and commands ask: yes or no, a reason, one of a few answers, free words."""

from collections.abc import Callable, Iterable
from dataclasses import replace

from benchvoice.session.hearing import split_reason
from benchvoice.session.state import Question
from benchvoice.session.turn import Turn

YES = ("yes", "yeah", "yep", "aye", "yes please", "yes it is", "affirmative", "correct")
"""Never "right": that is a side."""
NO = ("no", "nope", "negative", "no it isn't")
WRONG = ("wrong", "that's wrong", "disregard")
"""What takes back answers no where something is read back."""
UNDERSTOOD = ("understood",)
_YES_OR_NO = ("yes", "no")


def yes_or_no(name: str, prompt: str, yes: Callable[[Turn], None], no: Callable[[Turn], None]) -> Question:
    """A question that only yes or no answers."""

    def take(turn: Turn, text: str) -> bool:
        if text in YES:
            turn.understood("yes")
            turn.talk(question=None)
            yes(turn)
            return True
        if text in NO or (text in WRONG and _reads_back(name)):
            turn.understood("no")
            turn.talk(question=None)
            no(turn)
            return True
        return False

    return Question(name=name, prompt=prompt, take=take, phrases=_YES_OR_NO)


def is_yes_or_no(question: Question | None) -> bool:
    """Whether a question waits for yes or no."""
    return question is not None and question.phrases == _YES_OR_NO


def asks_whether_heard(question: Question | None) -> bool:
    """Whether a question only asks if words were heard aright: a no to it drops them, and nothing was done yet."""
    if question is None or not is_yes_or_no(question):
        return False
    return question.name == "said" or _reads_back(question.name)


def _reads_back(name: str) -> bool:
    """Whether a yes-or-no question of this name reads back what is to be kept."""
    return name.startswith("confirm")


def one_of(name: str, prompt: str, choices: Iterable[str], then: Callable[[Turn, str], None]) -> Question:
    """A question with a few answers, taken as they are."""
    known = tuple(choices)
    by_words = {plain(choice): choice for choice in known}

    def take(turn: Turn, text: str) -> bool:
        choice = by_words.get(plain(text))
        if choice is None:
            return False
        turn.understood(choice)
        turn.talk(question=None)
        then(turn, choice)
        return True

    return Question(name=name, prompt=prompt, take=take, phrases=known)


def aside(question: Question) -> Question:
    """A question about a question: whoever says something else goes on with the work, and it falls away."""
    return replace(question, may_be_passed_over=True)


def free_words(
    name: str,
    prompt: str,
    then: Callable[[Turn, str], None],
    *,
    about: str = "words",
    lead: str = "",
    phrases: tuple[str, ...] = (),
) -> Question:
    """A question that any words answer: a reason, a finding, a name. Commands first; `phrases` are usual answers."""

    def take(turn: Turn, text: str) -> bool:
        words = text.removeprefix(lead + " ") if lead else text
        turn.understood(name)
        turn.talk(question=None)
        then(turn, words)
        return True

    return Question(name=name, prompt=prompt, take=take, phrases=phrases, takes_anything=True, about=about)


def reason(prompt: str, then: Callable[[Turn, str], None]) -> Question:
    """Ask why. Words that may be talk between people about the work are said back before they count."""

    def take(turn: Turn, words: str) -> None:
        led = turn.utterance is not None and turn.utterance.text.lower().startswith("because ")
        if led or not _may_be_talk(words):
            then(turn, words)
            return

        def yes(inner: Turn) -> None:
            then(inner, words)

        def no(inner: Turn) -> None:
            inner.ask(reason(prompt, then))

        turn.ask(yes_or_no("confirm the reason", f"{words}: is that why? Yes or no?", yes, no))

    return free_words("reason", prompt, take, lead="because")


def all_the_same(
    turn: Turn, text: str, words: Iterable[str], name: str, then: Callable[[Turn, str], None]
) -> bool:
    """Take "use it because …", "because …" alone, or one of `words` and the reason when it is asked for.

    `then` gets the reason, and `name` is what was understood. False for any other words.
    """
    led = text.startswith("because ")
    said, because = ("", text.removeprefix("because ")) if led else split_reason(text)
    if not led and said not in words:
        return False
    turn.understood(name)
    if because:
        then(turn, because)
    else:
        turn.ask(reason("Why?", then))
    return True


def _may_be_talk(words: str) -> bool:
    """Whether a person may have said this to another: it answers somebody, or speaks of what is done or left."""
    said = plain(words).replace(",", " ").split()
    answers = words.split(",")[0] in (*YES, *NO, "okay", "right") if "," in words else said[:2] == ["no", "no"]
    return answers or bool(_OF_THE_WORK & set(said))


_OF_THE_WORK = frozenset({"done", "leave", "skip", "wrong", "next", "mate", "wait"})


def plain(text: str) -> str:
    """Words compared without case and hyphens."""
    return " ".join(text.lower().replace("-", " ").split())


def listed(items: Iterable[str], last: str = "or") -> str:
    """One, two or three."""
    words = list(items)
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"
