"""Nobody there: nothing heard, nothing waited for, time by what was played."""

import numpy as np

from benchvoice.room import NullRoom, Room


def test_speaks_nowhere_and_hears_nothing() -> None:
    room: Room = NullRoom()
    room.play(np.ones(22050, np.int16), 22050)
    assert list(room.blocks()) == []
    assert room.elapsed() == 1
    room.stop()
    room.close()
