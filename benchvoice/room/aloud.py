"""A virtual room made audible: what is played and what is heard come out of a loudspeaker, in real time."""

from collections.abc import Iterator

import numpy as np

from benchvoice.room.loudspeaker import Loudspeaker
from benchvoice.room.port import RATE, Room, Samples


class PlayAloud:
    """Wraps a room that has no devices. The loudspeaker sets the pace."""

    def __init__(self, room: Room, loudspeaker: Loudspeaker) -> None:
        """Both are closed with this room."""
        self._room = room
        self._loudspeaker = loudspeaker

    def play(self, samples: Samples, rate: int) -> None:
        """See Room."""
        self._room.play(samples, rate)
        self._loudspeaker.play(samples, rate)

    def blocks(self) -> Iterator[bytes]:
        """See Room: each block is handed on when its sound is about to be heard."""
        for block in self._room.blocks():
            self._loudspeaker.feed(np.frombuffer(block, dtype="<i2").astype(np.int16, copy=False), RATE)
            yield block

    def stop(self) -> None:
        """See Room."""
        self._room.stop()
        self._loudspeaker.stop()

    def elapsed(self) -> float:
        """See Room: the wrapped room's clock."""
        return self._room.elapsed()

    def close(self) -> None:
        """See Room."""
        self._room.close()
        self._loudspeaker.close()
