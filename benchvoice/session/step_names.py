"""Which step is meant: by its title, its name, its number, or by words of its own that fit it."""

from collections.abc import Iterator

from benchvoice.procedure.models import Step
from benchvoice.session.counting import counts_of
from benchvoice.session.fasteners import parts_of
from benchvoice.session.plan import fitted_steps, title_of
from benchvoice.session.questions import plain
from benchvoice.session.state import State

_SMALL = frozenset({"to", "the", "a", "on", "in", "do", "put", "it", "of", "at"})


def steps_named(state: State, words: str) -> tuple[Step, ...]:
    """The steps that words name: one where they are its title or name, else every one that has them all.

    Titles and names come before what else a step speaks of: "the key" is the step of that title.
    """
    steps = fitted_steps(state)
    said = plain(words).removeprefix("the ").removeprefix("step ")
    named = tuple(step for step in steps if said in (plain(title_of(step)), _name(step)))
    if named:
        return named[:1]
    wanted = set(said.split())
    near = tuple(step for step in steps if wanted and wanted <= set(plain(f"{title_of(step)} {_name(step)}").split()))
    if near:
        return near
    wanted -= _SMALL
    return tuple(step for step in steps if wanted and wanted <= set(_own_words(state, step)))


def _name(step: Step) -> str:
    return plain(step.step.replace("_", " "))


def _own_words(state: State, step: Step) -> Iterator[str]:
    """Every word of what a step tells, asks, uses, counts, tightens and waits for."""
    procedure = state.procedure
    texts = [title_of(step), step.tell, step.say, step.check.ask if step.check else None]
    texts += [step.mark.read if step.mark else None, step.measure.what if step.measure else None]
    texts += [step.wait.what, step.wait.starts_at] if step.wait else []
    texts += [procedure.consumables[name].what for name in step.uses]
    texts += [procedure.groups[part.group].what for part in parts_of(step)]
    texts += [count.what for count in counts_of(step)]
    for text in texts:
        yield from plain(text or "").replace(".", " ").replace(",", " ").replace(":", " ").split()
