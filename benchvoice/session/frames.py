"""Which end is which: the viewing end is said with a side the first time that a session uses one."""

import re

from benchvoice.session.state import State

_CUES = {
    "left_right": re.compile(r"\b(left|right|near side|far side)\b"),
    "number_one": re.compile(r"\bnumber one\b|\bone end\b"),
    "turning": re.compile(r"\b(clockwise|anticlockwise)\b|\bturn (it|the crank|the engine|two turns|one whole turn)\b"),
}


def frame_for(state: State, texts: tuple[str, ...]) -> tuple[tuple[str, ...], frozenset[str]]:
    """Sentences that say which end is which for the sides in these texts, and which were now said."""
    ends = state.procedure.which_end
    sentences = {
        "left_right": ends.left_right and f"Left and right {_as(ends.left_right)}",
        "number_one": ends.number_one and f"Number one is at the {ends.number_one.removeprefix('the ')}",
        "turning": ends.turning and f"Turning is {ends.turning}",
    }
    text = " ".join(texts).lower()
    wanted = [
        name for name, cue in _CUES.items() if sentences[name] and name not in state.talk.frames and cue.search(text)
    ]
    return tuple(str(sentences[name]) for name in wanted), frozenset(wanted)


def _as(text: str) -> str:
    return text if text.startswith(("as ", "seen ")) else f"as {text}"
