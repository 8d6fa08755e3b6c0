"""A room with nobody in it: speaks to nowhere and hears nothing. For typed work, and where only the log matters."""

from collections.abc import Iterator

from benchvoice.room.port import Samples


class NullRoom:
    """Plays in no time, hears nothing, and its clock moves by what was played."""

    def __init__(self) -> None:
        self._elapsed = 0.0

    def play(self, samples: Samples, rate: int) -> None:
        """See Room."""
        self._elapsed += len(samples) / rate

    def blocks(self) -> Iterator[bytes]:
        """See Room: ends at once."""
        return iter(())

    def stop(self) -> None:
        """See Room."""

    def elapsed(self) -> float:
        """See Room."""
        return self._elapsed

    def close(self) -> None:
        """See Room."""
