"""From the net's sound units to the phones of a decoding graph, and Kaldi's transition model over them.

A unit (an ARPAbet sound) becomes four phones that share its outputs, by where they stand in a word: begin, end, inside,
alone. Vosk finds the edges of words by those kinds. Each phone is one emitting state with a loop: it takes its `enter`
output for exactly one frame and its `loop` output for any number after.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import Any

import numpy as np

from benchvoice.ear.pack.kaldi import KaldiWriter

GARBAGE = "SPN"
"""The unit trained on noises of the mouth and on other languages."""
SILENCE = "SIL"
"""The phone between words, whatever the net calls its silent unit."""


class Place(StrEnum):
    """Where a phone stands in its word, as the suffix of its name."""

    BEGIN = "_B"
    END = "_E"
    INSIDE = "_I"
    ALONE = "_S"


_BOUNDARY = {Place.BEGIN: "begin", Place.END: "end", Place.INSIDE: "internal", Place.ALONE: "singleton"}


@dataclass(frozen=True)
class Topology:
    """The sounds that a net tells apart, with the net's outputs for each: for its first frame and for further ones."""

    units: tuple[str, ...]
    silence: str
    outputs: Mapping[str, tuple[int, int]]

    @cached_property
    def sounds(self) -> tuple[str, ...]:
        """The units that words are made of: all but silence (the garbage unit is among them)."""
        return tuple(unit for unit in self.units if unit != self.silence)

    @cached_property
    def spellable(self) -> frozenset[str]:
        """The units that a pronunciation may hold."""
        return frozenset(self.sounds) - {GARBAGE}

    @classmethod
    def from_json(cls, units: list[str], data: Mapping[str, Any]) -> Topology:
        if data.get("blank") is not None:
            raise ValueError(
                "a net with a blank unit (CTC) is not handled: train the net with LF-MMI, one or two outputs a sound"
            )
        return cls(
            tuple(units), data["sil"], {unit: (int(pair[0]), int(pair[1])) for unit, pair in data["pdfs"].items()}
        )

    def to_json(self) -> dict[str, Any]:
        return {"sil": self.silence, "blank": None, "pdfs": {unit: list(pair) for unit, pair in self.outputs.items()}}


@dataclass(frozen=True)
class PhoneTable:
    """All phones of a topology, numbered from 1: silence first, then each sound in its four places."""

    topology: Topology

    @cached_property
    def names(self) -> tuple[str, ...]:
        """Names by number; number 0 is the empty symbol."""
        return ("<eps>", SILENCE, *(unit + place for unit in self.topology.sounds for place in Place))

    @cached_property
    def boundaries(self) -> tuple[str, ...]:
        """What vosk's `word_boundary.int` says of phones 1, 2, 3 …"""
        return ("nonword", *(_BOUNDARY[place] for _ in self.topology.sounds for place in Place))

    @cached_property
    def _number(self) -> dict[str, int]:
        return {name: number for number, name in enumerate(self.names)}

    def loop(self, phone: str) -> int:
        """The transition-id of staying in a phone (Kaldi numbers a phone's transitions in order: loop, then out)."""
        return 2 * self._number[phone] - 1

    def out(self, phone: str) -> int:
        """The transition-id of leaving a phone. In the graph it takes the phone's FIRST frame (Kaldi's "reorder"
        form)."""
        return 2 * self._number[phone]

    @property
    def transitions(self) -> int:
        return 2 * (len(self.names) - 1)

    def outputs(self, number: int) -> tuple[int, int]:
        """The net's outputs (enter, loop) for a phone number."""
        if number == 1:
            return self.topology.outputs[self.topology.silence]
        return self.topology.outputs[self.topology.sounds[(number - 2) // len(Place)]]


def write_transition_model(out: KaldiWriter, phones: PhoneTable) -> None:
    """Kaldi's TransitionModel: the shape of every phone, its outputs, and the odds of looping (even; the graph has
    its own)."""
    numbers = list(range(1, len(phones.names)))
    pairs = [phones.outputs(number) for number in numbers]
    one_output = [enter == loop for enter, loop in pairs]
    shapes = ([(0, 0)] if any(one_output) else []) + ([(0, 1)] if not all(one_output) else [])
    shape_of = [shapes.index((0, 0) if single else (0, 1)) for single in one_output]
    out.token("<TransitionModel>")
    out.token("<Topology>")
    out.int_vector(numbers)
    out.int_vector([-1, *shape_of])
    out.int32(-1)  # says that loops have outputs of their own
    out.int32(len(shapes))
    for enter, loop in shapes:
        out.int32(2, enter, loop)  # two states: the emitting one …
        out.int32(2)
        for target in (0, 1):
            out.int32(target)
            out.float32(0.5)
        out.int32(-1, -1, 0)  # … and the end
    out.token("</Topology>")
    out.token("<Tuples>")
    out.int32(len(numbers))
    for number, (enter, loop) in zip(numbers, pairs, strict=True):
        out.int32(number, 0, enter, loop)
    out.token("</Tuples>")
    out.token("<LogProbs>")
    odds = np.full(phones.transitions + 1, math.log(0.5), np.float32)
    odds[0] = 0.0
    out.vector(odds)
    out.token("</LogProbs>")
    out.token("</TransitionModel>")
