"""What a person can say at any time: a table of commands, grouped by what they are for.

A command is the whole utterance, never a word inside a sentence. To add one: a function over a turn in the module of
its group, and a line in that module's table.
"""

from benchvoice.session.commands.asking import ASKING
from benchvoice.session.commands.builds import BUILDS
from benchvoice.session.commands.choosing import CHOOSING
from benchvoice.session.commands.correcting import CORRECTING
from benchvoice.session.commands.instruments import INSTRUMENTS
from benchvoice.session.commands.materials import MATERIALS
from benchvoice.session.commands.moving import MOVING
from benchvoice.session.commands.pausing import PAUSING
from benchvoice.session.commands.reckoning import RECKONING
from benchvoice.session.commands.stock import STOCK
from benchvoice.session.commands.table import Command, Found, find
from benchvoice.session.commands.telling import TELLING
from benchvoice.session.commands.values import VALUES
from benchvoice.session.commands.warming import WARMING

COMMANDS: tuple[Command, ...] = (
    *MOVING,
    *ASKING,
    *CORRECTING,
    *TELLING,
    *WARMING,
    *INSTRUMENTS,
    *MATERIALS,
    *BUILDS,
    *PAUSING,
    *STOCK,
    *RECKONING,
    *VALUES,
    *CHOOSING,
)

__all__ = ["COMMANDS", "Command", "Found", "find"]
