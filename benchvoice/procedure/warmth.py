"""What temperature asks of readings: part and gauge as warm as each other, so long since it ran, a table each for cold
and hot. All of it is declared with the step, and asked before its first reading."""

from pydantic import model_validator

from benchvoice.procedure.fields import Names, Number, Part, Size, Text, Texts, Unit
from benchvoice.procedure.limits import Limits


class Even(Part):
    """Part and gauge within so many degrees of one another: no reading is taken before they are.

    The temperatures are what earlier steps read (`of`), what is read here (`read`, as it is said: micrometer), or some
    of both.
    """

    within: Number
    """In degrees of `unit`, at most."""
    unit: Unit = "degC"
    of: Names = ()
    read: Texts = ()


class Warmth(Part):
    """The state that the readings of a set are all taken in.

    Where limits differ between cold and hot, both tables stand here and none beside. Which of them applies is asked
    once, and readings of one set are never judged by both: when the state changes, those that were taken open again.
    """

    what: Text | None = None
    """What runs and gets warm, as it is said: engine."""
    even: Even | None = None
    since_it_ran: Size | None = None
    """The least time since it ran; where cold and hot have tables, for cold alone."""
    holds: Size | None = None
    """So long what was said holds at the most; then, as after a time without the program, it is asked if still so."""
    cold: Limits | None = None
    hot: Limits | None = None

    @model_validator(mode="after")
    def _whole(self) -> "Warmth":
        if (self.cold is None) != (self.hot is None):
            raise ValueError("limits for cold or for hot alone; write both cold and hot")
        if self.even is None and self.since_it_ran is None and self.cold is None:
            raise ValueError("this asks nothing; write even, since_it_ran, or both cold and hot")
        return self

    @property
    def tables(self) -> dict[str, Limits]:
        """The limits for each state, where they differ."""
        return {"cold": self.cold, "hot": self.hot} if self.cold is not None and self.hot is not None else {}
