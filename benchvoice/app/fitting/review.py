"""What a person confirmed or corrected in a build, as material for a fit: clips whose words are known.

    confirmed   the words were said back, or a reading was, and the answer was yes
    corrected   a reading was put right, or its read-back answered no and it was said again and confirmed; taken only
                where the old words sound like the new ones, for else the person had said something else at first

What was taken back afterwards is no material, and a clip that was dropped at the person's wish is gone.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from benchvoice.app.fitting.voices import keep_clip
from benchvoice.ear.alike import distance
from benchvoice.ear.lexicon import Lexicon
from benchvoice.errors import MachineError
from benchvoice.log import Line, read_clip, read_log
from benchvoice.session.entries import Corrected, Heard, Reading, Retracted, Said, Unclear
from benchvoice.session.questions import NO, YES

SOUNDS_LIKE = 0.9
"""Words no further apart than this may be one misheard for the other: teen and ty are."""
LONGEST_S = 12
_ASKED = ("yes or no?", "is that what it says?")


@dataclass(frozen=True, slots=True)
class Reviewed:
    """A clip of a build, the words that were said in it, and how that is known."""

    clip: str
    text: str
    line: int
    why: str


@dataclass(frozen=True, slots=True)
class _Utterance:
    """Something that was said, what was asked back, the answer, and the reading that came of it."""

    line: Line
    entry: Heard | Unclear
    asked: str = ""
    answer: str = ""
    reading: Line | None = None

    @property
    def said_back(self) -> bool:
        """Whether its own words were what was asked about."""
        asked = self.asked.lower()
        return asked.endswith(_ASKED) and (asked.startswith(f"{self.entry.text}.") or self.is_reading)

    @property
    def is_reading(self) -> bool:
        return isinstance(self.entry, Heard) and self.entry.understood in ("reading", "correction")


def reviewed(lines: Sequence[Line], person: str, lexicon: Lexicon) -> Iterator[Reviewed]:
    """What a person confirmed or corrected, in the order of the log."""
    undone = {n for line in lines if isinstance(line.entry, Retracted) for n in line.entry.entries}
    corrected = {line.entry.entry: line.entry for line in lines if isinstance(line.entry, Corrected)}
    refused: list[_Utterance] = []
    for said in _utterances(lines, person):
        number = said.reading.n if said.reading is not None else None
        if number in corrected and number is not None:
            yield from _as(said, corrected[number].now, lexicon)
        elif said.said_back and said.answer == "yes" and number not in undone:
            yield from _known(said, said.entry.text, "confirmed")
            if said.is_reading:
                for earlier in refused:
                    yield from _as(earlier, said.entry.text, lexicon)
            refused = []
        elif said.said_back and said.answer == "no" and said.is_reading:
            refused.append(said)


def _as(said: _Utterance, words: str, lexicon: Lexicon) -> Iterator[Reviewed]:
    """An utterance with the words that stand in place of those that were heard."""
    heard, true = said.entry.text.split(), words.split()
    pairs = list(zip(heard, true, strict=False)) if len(heard) == len(true) else []
    if pairs and heard != true and all(_sound_alike(one, other, lexicon) for one, other in pairs):
        yield from _known(said, words, "corrected")


def _known(said: _Utterance, words: str, why: str) -> Iterator[Reviewed]:
    if said.entry.sound is not None and said.entry.via == "voice":
        yield Reviewed(said.entry.sound.clip, words, said.line.n, why)


def _sound_alike(one: str, other: str, lexicon: Lexicon) -> bool:
    far = distance(one, other, lexicon)
    return far is not None and far <= SOUNDS_LIKE


def _utterances(lines: Sequence[Line], person: str) -> Iterator[_Utterance]:
    """A person's utterances, each with what followed before they said the next thing that is no answer to it."""
    current: _Utterance | None = None
    for line in lines:
        entry = line.entry
        if isinstance(entry, Said) and current is not None:
            current = _changed(current, asked=current.asked if current.answer else entry.text)
        elif isinstance(entry, Reading) and current is not None and entry.said == current.entry.text:
            current = _changed(current, reading=line)
        elif isinstance(entry, Heard | Unclear):
            answer = _answer(entry)
            if answer and current is not None and not current.answer:
                current = _changed(current, answer=answer)
                continue
            if current is not None:
                yield current
            current = _Utterance(line, entry) if line.stamped.by == person else None
    if current is not None:
        yield current


def _changed(said: _Utterance, *, asked: str = "", answer: str = "", reading: Line | None = None) -> _Utterance:
    return _Utterance(
        said.line, said.entry, asked or said.asked, answer or said.answer, said.reading if reading is None else reading
    )


def _answer(entry: Heard | Unclear) -> str:
    if isinstance(entry, Unclear):
        return ""
    return "yes" if entry.text in YES else "no" if entry.text in NO else ""


@dataclass(frozen=True, slots=True)
class Gathered:
    """What came of a build: clips that are new, and those that are no longer there."""

    confirmed: int
    corrected: int
    gone: int


def gather_build(build: Path, voice: Path, person: str, lexicon: Lexicon) -> Gathered:
    """Keeps what a person confirmed or corrected in a build with their voice. MachineError when the log can't be read.

    The log is only read. Gathering a build again adds nothing twice.
    """
    counts = {"confirmed": 0, "corrected": 0}
    gone = 0
    for each in reviewed(read_log(build).lines, person, lexicon):
        try:
            samples = read_clip(build, each.clip)
        except MachineError:
            gone += 1
            continue
        if len(samples) <= LONGEST_S * 16_000:
            source = f"{build.resolve().name}, line {each.line}: {each.why}"
            counts[each.why] += keep_clip(voice, samples, each.text, source)
    return Gathered(counts["confirmed"], counts["corrected"], gone)
