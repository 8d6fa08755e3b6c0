"""Whole conversations in readable text files: what a person says, what must be said back, what must be in the log.

# a remark
instruments: shop-instruments.yaml       the shop's register, beside the file; before the procedure
procedure: launch-bottom-end.yaml        beside the file, or in procedures/
answers: crank_ground=first undersize    for the careful person who works up to the place of interest
work to: main_clearance                  let that person work until the step is read out; "the end" closes the build
P: two and a quarter thou                what the person says
P?: two [unk] done                       the same, by words that the ear does not trust; [unk]: some other word
P!: two thirds or so                     the same, by words that the ear heard and trusts
B: two and a quarter … main two          what is said then, pieces in this order ("B: (silence)" for nothing)
B: (tone)                                a tone, and no words
B not: under                             what is not said
L: reading place=one; value=2.25         an entry written since the last P, @ or ! with these fields
L none: reading                          no such entry was written
counts: reading step=bores = 2           how many entries of the kind and fields count now
at: main_clearance                       which step is in hand
build gannet: sub.yaml                   another build beside this one, in a folder of that name, before the procedure
build gannet, hull seven: sub.yaml       the same, of a machine with a name
in gannet: done                          what is said there; L, L none and counts look at this build alone
in gannet work to: STEP                  the careful person works there; "the end" closes it
@+10m   @clock -5m   !kill   !kill 3h (off for three hours)   !reboot 3h   !amend other.yaml because a reason
!lose gannet   !damage gannet   !find gannet (whole again, in its place)
!swap gannet: sub.yaml                   another build lies in its folder
"""

import re
from dataclasses import dataclass, field
from pathlib import Path

from benchvoice.procedure.register import load_register
from benchvoice.session.effects import ToneAlone
from benchvoice.session.entries import Entry
from benchvoice.session.entries_brought import Trouble
from benchvoice.session.known_instruments import KnownInstrument
from benchvoice.testing.bench import Bench
from benchvoice.testing.beside import Beside

ROOT = Path(__file__).parents[2]
THE_END = "the end"


@dataclass
class Run:
    """A conversation while it runs."""

    file: Path
    bench: Bench | None = None
    answers: dict[str, str] = field(default_factory=dict)
    mark: int = 0
    instruments: tuple[KnownInstrument, ...] = ()
    beside: Beside = field(default_factory=Beside)

    @property
    def there(self) -> Bench:
        assert self.bench is not None, "name a procedure first"
        return self.bench


def run(file: Path) -> None:
    """Run a conversation file; AssertionError names the line that was not kept."""
    talk = Run(file)
    for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1):
        text = line.strip()
        if not text or text.startswith("#"):
            continue
        try:
            _line(talk, text)
        except AssertionError as fault:
            heard = " / ".join(talk.bench.heard) if talk.bench else ""
            raise AssertionError(f"{file.name}:{number}: {text}\n  {fault}\n  said: {heard}") from None


def _line(talk: Run, text: str) -> None:
    word, _, rest = text.partition(":")
    rest = rest.strip()
    if text[0] in "@!":
        _event(talk, text)
    elif word == "procedure":
        file = _document(talk, rest)
        talk.bench = Bench(file, instruments=talk.instruments)
        talk.bench.beside = talk.beside
    elif word.startswith("build "):
        name, _, machine = word.removeprefix("build ").partition(",")
        talk.beside.benches[name.strip()] = Bench(_document(talk, rest), machine=machine.strip() or None)
    elif word.startswith("in "):
        _in_other(talk, word.removeprefix("in "), rest)
    elif word == "instruments":
        talk.instruments = tuple(KnownInstrument.of(each) for each in load_register(talk.file.parent / rest))
    elif word == "answers":
        talk.answers.update(pair.strip().split("=") for pair in rest.split(";"))  # type: ignore[arg-type]
    elif word == "work to":
        step = None if rest == THE_END else rest
        talk.there.work_to(step, talk.answers)
        assert talk.there.at == step, f"came to {talk.there.at}"
    elif word == "P":
        talk.mark = len(talk.there.written)
        talk.there.say(rest)
    elif word == "P?":
        talk.mark = len(talk.there.written)
        talk.there.mumble(rest)
    elif word == "P!":
        talk.mark = len(talk.there.written)
        talk.there.speak(rest)
    elif word == "B":
        _said(talk, rest)
    elif word == "B not":
        assert _plain(rest) not in _plain(" ".join(talk.there.heard)), "was said"
    elif word in ("L", "L none"):
        kind, fields = _entry(rest)
        found = [entry for entry, _ in talk.there.written[talk.mark :] if _fits(entry, kind, fields)]
        written = [entry for entry, _ in talk.there.written[talk.mark :] if entry.kind == kind]
        assert bool(found) == (word == "L"), f"written: {written or 'nothing of this kind'}"
    elif word == "counts":
        pattern, _, number = rest.rpartition("=")
        kind, fields = _entry(pattern.strip())
        rows = [row for row in talk.there.counting(kind) if _fits(row.entry, kind, fields)]
        assert len(rows) == int(number), f"{len(rows)} count"
    elif word == "at":
        assert talk.there.at == rest, f"at {talk.there.at}"
    else:
        raise AssertionError(f"no such line: {word}")


def _document(talk: Run, name: str) -> Path:
    here = talk.file.parent / name
    return here if here.exists() else ROOT / "procedures" / name


def _in_other(talk: Run, who: str, rest: str) -> None:
    name, _, work = who.partition(" work to")
    bench = talk.beside.benches[name.strip()]
    if work or who.endswith(" work to"):
        bench.work_to(None if rest == THE_END else rest, talk.answers)
    elif rest.startswith("!kill"):
        bench.kill_and_resume(away=rest.split()[1] if " " in rest else "1s")
    else:
        bench.say(rest)


_TROUBLE: dict[str, Trouble] = {"!lose": "missing", "!damage": "damaged", "!find": ""}


def _event(talk: Run, text: str) -> None:
    if text.split()[0] in _TROUBLE:
        talk.beside.trouble[text.split()[1]] = _TROUBLE[text.split()[0]]
        return
    bench = talk.there
    talk.mark = len(bench.written)
    if text.startswith("@"):
        bench.script(text)
    elif text.split()[0] in ("!kill", "!reboot"):
        away = text.split()[1] if " " in text else "1s"
        bench.kill_and_resume(reboot=text.startswith("!reboot"), away=away)
    elif text.startswith("!swap "):
        name, _, document = text.removeprefix("!swap ").partition(":")
        talk.beside.benches[name.strip()] = Bench(_document(talk, document.strip()))
    elif text.startswith("!amend "):
        name, _, why = text.removeprefix("!amend ").partition(" because ")
        bench.amend(talk.file.parent / name.strip(), why)
    else:
        raise AssertionError("no such event")


def _said(talk: Run, wanted: str) -> None:
    said = _plain(" ".join(talk.there.heard))
    if wanted == "(silence)":
        assert not said, "something was said"
        return
    if wanted == ToneAlone.text:
        assert talk.there.heard == [wanted], "no tone, or not alone"
        return
    at = 0
    for piece in wanted.split("…"):
        words = _plain(piece)
        found = f" {said} ".find(f" {words} ", at)
        assert found >= 0, f"not said: {piece.strip()}"
        at = found + len(words)


def _plain(text: str) -> str:
    return " ".join(re.sub(r"[^\w' ]", " ", text.lower().replace("-", " ")).split())


def _entry(text: str) -> tuple[str, dict[str, str]]:
    kind, _, rest = text.partition(" ")
    pairs = [pair.partition("=") for pair in rest.split(";") if pair.strip()]
    return kind, {name.strip(): value.strip() for name, _, value in pairs}


def _fits(entry: Entry, kind: str, fields: dict[str, str]) -> bool:
    return entry.kind == kind and all(_text(getattr(entry, name)) == value for name, value in fields.items())


def _text(value: object) -> str:
    return ", ".join(map(str, value)) if isinstance(value, tuple) else str(value)
