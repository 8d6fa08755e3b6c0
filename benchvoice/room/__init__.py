"""The edge for sound: real devices, files, virtual rooms, and sound put together for them."""

from benchvoice.room.devices import DeviceRoom
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
    "Room",
    "RoomError",
    "Samples",
    "VirtualRoom",
    "WavRoom",
    "read_sound",
]
