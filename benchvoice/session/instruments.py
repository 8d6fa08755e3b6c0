"""Questions about instruments: which are in the register, which one is used here, and what stands against its use.

A procedure names an instrument of some kind. The register may have several of that kind: the person says which, or
that it is none of them and the procedure's own figures hold.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from benchvoice.procedure.gauges import declared
from benchvoice.quantity.instruments import Instrument, objections
from benchvoice.quantity.units import kind_of
from benchvoice.session.entries import InstrumentTaken, Opened, Override, Reading, Resumed, SetRead, Tightened
from benchvoice.session.facts import Facts, Instant, Row
from benchvoice.session.known_instruments import KnownInstrument
from benchvoice.session.state import State


@dataclass(frozen=True, slots=True)
class Tool:
    """The instrument that is used where the procedure names one, and how often it was used since its calibration."""

    instrument: Instrument
    used: int = 0

    @property
    def called(self) -> str:
        """What it is called at the bench."""
        says = self.instrument.says
        return says[0] if says else self.instrument.id.replace("_", " ")


def register(facts: Facts, before: int | None = None) -> Mapping[str, KnownInstrument]:
    """The shop's register by id, as it was when the build began or was last resumed with a changed one.

    As it was at a line of the log, where one is given: a calibration since then changes nothing that was read.
    """
    found = facts.worked_out(_registers)
    return next((known for n, known in reversed(found) if before is None or n < before), {})


def _registers(facts: Facts) -> list[tuple[int, Mapping[str, KnownInstrument]]]:
    """Every register that a build had, with the line that brought it."""
    begun = [(row.n, row.entry.instruments) for row in facts.all(Opened)]
    since = [(row.n, row.entry.instruments) for row in facts.all(Resumed) if row.entry.instruments is not None]
    return [(n, {each.id: each for each in known or ()}) for n, known in (*begun, *since)]


def own(state: State, name: str) -> Instrument | None:
    """The procedure's own instrument or wrench of that name."""
    part = state.procedure.instruments.get(name) or state.procedure.wrenches.get(name)
    return None if part is None else declared(name, part)


def candidates(state: State, name: str) -> tuple[KnownInstrument, ...]:
    """The instruments of the register that are of the kind which the procedure names."""
    asked = own(state, name)
    if asked is None:
        return ()
    return tuple(
        each
        for each in register(state.facts).values()
        if each.kind.lower() == asked.kind.lower() and kind_of(each.unit) == kind_of(asked.unit)
    )


def choice(facts: Facts, name: str, before: int | None = None) -> Row[InstrumentTaken] | None:
    """What was said to be used for a name of the procedure, newest.

    Of what was said before a line, where one is given: what was taken back since then was used all the same.
    """
    said = facts.of(InstrumentTaken) if before is None else facts.all(InstrumentTaken)
    rows = [row for row in said if row.entry.name == name]
    return next((row for row in reversed(rows) if before is None or row.n < before), None)


def tool(state: State, name: str | None) -> Tool | None:
    """The instrument in use for a name of the procedure; the procedure's own while none was said."""
    if name is None:
        return None
    said = choice(state.facts, name)
    known = register(state.facts).get(said.entry.id or "") if said is not None else None
    if known is not None:
        return Tool(known.instrument(), known.used + uses(state.facts, known.id))
    found = own(state, name)
    return None if found is None else Tool(found, uses(state.facts, found.id))


def instrument_of(state: State, row: Row[Reading]) -> Instrument | None:
    """The instrument that a reading was taken with, when it is known."""
    name = row.entry.instrument
    if name is None:
        return None
    measure = next((each.measure for each in state.procedure.steps if each.step == row.entry.step), None)
    if measure is not None:
        said = choice(state.facts, measure.instrument or name, row.n)
        registered = said is not None and said.entry.id == name
    else:  # a bolt's length, read as its free length was
        registered = any(each.entry.id == name and each.n < row.n for each in state.facts.all(InstrumentTaken))
    known = register(state.facts, row.n).get(name)
    if registered and known is not None:
        return known.instrument()
    return own(state, name)


def uses(facts: Facts, name: str, since: date | None = None) -> int:
    """How often an instrument was used in this build: readings, and fasteners tightened by a wrench's torque.

    Those on a day or later, where one is given. What does not count any more was a use all the same.
    """
    days = facts.worked_out(_days_of_use).get(name, [])
    return sum(1 for day in days if since is None or day >= since)


def registered_uses(facts: Facts, name: str, since: date | None = None) -> int:
    """Uses of an instrument of the register, in a build that took it from there."""
    return uses(facts, name, since) if any(row.entry.id == name for row in facts.all(InstrumentTaken)) else 0


def _days_of_use(facts: Facts) -> dict[str, list[date]]:
    found: dict[str, list[date]] = {}
    for row in facts.all(Reading):
        if row.entry.instrument is not None and row.entry.counts_as not in ("computed", "mean"):
            found.setdefault(row.entry.instrument, []).append(row.now.at.date())
    for wrench, day in _strokes(facts):
        found.setdefault(wrench, []).append(day)
    return found


def _strokes(facts: Facts) -> list[tuple[str, date]]:
    """Each fastener that was brought to a torque: with which wrench, and on which day."""
    set_to: dict[tuple[str, str, int], str] = {}
    found = []
    for row in sorted((*facts.all(SetRead), *facts.all(Tightened)), key=lambda each: each.n):
        entry = row.entry
        if isinstance(entry, SetRead):
            if entry.accepted and entry.wrench is not None:
                set_to[entry.step, entry.group, entry.stage] = entry.wrench
        elif isinstance(entry, Tightened) and entry.stage_kind == "torque" and entry.outcome == "done":
            wrench = set_to.get((entry.step, entry.group, entry.stage))
            if wrench is not None:
                found.append((wrench, row.now.at.date()))
    return found


def needs_choice(state: State, name: str) -> bool:
    """Whether the register has instruments of the kind and nobody has said yet which is used."""
    return bool(candidates(state, name)) and choice(state.facts, name) is None


def against(state: State, used: Tool, now: Instant) -> tuple[str, ...]:
    """What stands against an instrument's use now and was not overridden in this build: calibration that is due."""
    found = objections(used.instrument, on=now.at.date(), uses=used.used)
    return tuple(each for each in found if not overridden(state.facts, used.instrument.id, each))


def overridden(facts: Facts, instrument: str, what: str, step: str | None = None) -> bool:
    """Whether an objection to an instrument was overridden; at one step only, where one is given."""
    return any(
        row.entry.instrument == instrument
        and row.entry.what.endswith(what)
        and (step is None or row.entry.step == step)
        for row in facts.of(Override)
    )
