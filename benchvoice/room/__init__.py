"""The edge for sound: real devices, files, virtual rooms, and sound put together for them."""

from benchvoice.room.aloud import PlayAloud
from benchvoice.room.devices import DeviceRoom, open_loudspeaker
from benchvoice.room.files import PersonRoom, VirtualRoom, WavRoom, read_sound
from benchvoice.room.null import NullRoom
from benchvoice.room.port import BLOCK, RATE, DeviceLost, DeviceSilent, NoDevice, Room, RoomError, Samples

__all__ = [
    "BLOCK",
    "RATE",
    "DeviceLost",
    "DeviceRoom",
    "DeviceSilent",
    "NoDevice",
    "NullRoom",
    "PersonRoom",
    "PlayAloud",
    "Room",
    "RoomError",
    "Samples",
    "VirtualRoom",
    "WavRoom",
    "open_loudspeaker",
    "read_sound",
]
