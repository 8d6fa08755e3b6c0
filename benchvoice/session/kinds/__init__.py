"""The kinds of steps, one module each. To add one: a module with its `Kind`, and a line in this table."""

from collections.abc import Mapping
from types import MappingProxyType

from benchvoice.session.kinds.check import CHECK
from benchvoice.session.kinds.choose import CHOOSE
from benchvoice.session.kinds.look import LOOK
from benchvoice.session.kinds.mark import MARK
from benchvoice.session.kinds.measure import MEASURE
from benchvoice.session.kinds.slacken import SLACKEN
from benchvoice.session.kinds.tell import TELL, WHICH_WAY_UP
from benchvoice.session.kinds.tighten import TIGHTEN
from benchvoice.session.kinds.wait import WAIT
from benchvoice.session.steps import Kind

KINDS: Mapping[str, Kind] = MappingProxyType(
    {
        "tell": TELL,
        "check": CHECK,
        "mark": MARK,
        "measure": MEASURE,
        "tighten": TIGHTEN,
        "slacken": SLACKEN,
        "wait": WAIT,
        "look": LOOK,
        "which_way_up": WHICH_WAY_UP,
        "choose": CHOOSE,
    }
)
