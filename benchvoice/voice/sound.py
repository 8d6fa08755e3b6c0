"""A piece of sound in memory: what the voice makes and what a loudspeaker is given."""

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Samples: TypeAlias = NDArray[np.int16]
"""Mono signed 16-bit samples; full scale is 32767."""


@dataclass(frozen=True, slots=True, eq=False)
class Sound:
    """Mono samples with their rate in samples a second."""

    samples: Samples
    rate: int

    @property
    def seconds(self) -> float:
        """How long the sound lasts."""
        return len(self.samples) / self.rate
