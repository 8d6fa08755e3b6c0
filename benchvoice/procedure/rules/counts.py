"""Things counted: what goes in comes out again, on every machine; what is laid out is asked about in the end."""

from collections.abc import Iterator, Mapping

from benchvoice.procedure.models import Step
from benchvoice.procedure.rules.book import Book, Finding, asked_of, is_fitted
from benchvoice.procedure.source import Path


def whole(book: Book) -> Iterator[Finding]:
    """Things counted in and not out, or out and not in; parts laid out, and nobody asks whether any is left."""
    things = dict.fromkeys(
        name for step in book.procedure.steps for name in (*step.count.put_in, *step.count.taken_out)
    )
    for thing in things:
        steps = [(path, step) for _, path, step in book.steps if _moves(step, thing)]
        yield from _thing(book, thing, steps)
    yield from _left_over(book)


def _left_over(book: Book) -> Iterator[Finding]:
    """A part left in the tray is one that was not fitted: it is seen only by who looks."""
    steps = [(path, step) for _, path, step in book.steps if step.count.laid_out or step.count.anything_left]
    for answers in book.machines(asked_of([step for _, step in steps])):
        unasked: Path = ()
        for path, step in steps:
            if not is_fitted(step, answers):
                continue
            if step.count.anything_left:
                unasked = ()
            elif step.count.laid_out and not unasked:
                unasked = (*path, "count", "laid_out")
        if unasked:
            what = f"nobody is asked afterwards whether a part is left in the tray{_when(answers)}"
            yield Finding(unasked, what, "add anything_left: yes where the last of them is fitted", True)
            return


def _when(answers: Mapping[str, str]) -> str:
    said = ", ".join(f"{name} is {answer}" for name, answer in answers.items())
    return f" when {said}" if said else ""


def _moves(step: Step, thing: str) -> bool:
    return thing in step.count.put_in or thing in step.count.taken_out


def _thing(book: Book, thing: str, steps: list[tuple[Path, Step]]) -> Iterator[Finding]:
    for answers in book.machines(asked_of([step for _, step in steps])):
        when = _when(answers)
        inside = 0
        last: Path = ()
        for path, step in steps:
            if not is_fitted(step, answers):
                continue
            inside += step.count.put_in.get(thing, 0)
            out = step.count.taken_out.get(thing, 0)
            if out > inside:
                what = f"{out} {thing} counted out and only {inside} in{when}"
                yield Finding((*path, "count", "out", thing), what, "count them in before, or correct the number")
                return
            inside -= out
            last = (*path, "count", "in" if thing in step.count.put_in else "out", thing)
        if inside:
            what = f"{inside} {thing} counted in and not out again{when}"
            yield Finding(last, what, "count them out in a later step, or use left_in for what stays")
            return
