"""Judge a log again: every verdict is computed anew from its reading and the procedure that was in force."""

from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

from benchvoice.app.conversation import instant_of
from benchvoice.errors import BenchvoiceError
from benchvoice.log import Fault, Judge, Line, procedure_bytes
from benchvoice.procedure.load import load_text
from benchvoice.procedure.models import Computed, Procedure
from benchvoice.session.entries import Amended, Matched, Opened, PackTaken, Reading, Verdict
from benchvoice.session.facts import Facts, Row
from benchvoice.session.matching import matches_of
from benchvoice.session.state import State
from benchvoice.session.verdicts import verdict_on


def judge_for(folder: Path) -> Judge:
    """A judge for the build in a folder: gives the first verdict that its reading does not bear out."""

    def judge(lines: Sequence[Line]) -> Fault | None:
        facts, procedure = Facts(), None
        readings: dict[int, Row[Reading]] = {}
        for line in lines:
            entry = line.entry
            if isinstance(entry, Opened | Amended):
                try:
                    procedure = load_text(procedure_bytes(folder, entry.procedure).decode("utf-8"), entry.procedure)
                except (BenchvoiceError, UnicodeDecodeError) as fault:
                    why = str(fault).splitlines()[0]
                    return Fault(line.n, f"its procedure {entry.procedure} can't be read ({why})")
            if isinstance(entry, Reading):
                readings[line.n] = Row(line.n, instant_of(line), line.stamped.by, entry)
            if isinstance(entry, Verdict) and procedure is not None:
                found = _differs(procedure, facts, readings.get(entry.reading), entry)
                if found:
                    return Fault(line.n, found)
            if isinstance(entry, PackTaken) and sum(map(Fraction, entry.pieces)) != Fraction(entry.total):
                return Fault(line.n, f"the pieces of {entry.pack} don't add up to {entry.total} {entry.unit}")
            if isinstance(entry, Matched) and procedure is not None and _other_match(procedure, facts, entry):
                return Fault(line.n, f"{entry.what} matched comes to another figure than {entry.figure} {entry.unit}")
            facts = facts.add(entry, instant_of(line))
        return None

    return judge


def _other_match(procedure: Procedure, facts: Facts, written: Matched) -> bool:
    """Whether the readings make another best figure than the match says."""
    step = next((each for each in procedure.steps if each.step == written.step), None)
    match = step.measure.match if step is not None and step.measure is not None else None
    found = matches_of(State(procedure, facts), match) if match is not None else None
    return found is not None and found.rows == written.from_entries and found.figure != written.figure


def _differs(procedure: Procedure, facts: Facts, row: Row[Reading] | None, written: Verdict) -> str:
    """Why a verdict is not what its reading makes; empty when it is."""
    if row is None:
        return f"the verdict is on line {written.reading}, which is no reading"
    try:
        state = State(procedure, facts)
        step = state.step(row.entry.step)
    except KeyError:
        return f"the reading is of the step {row.entry.step}, which the procedure does not have"
    if step.measure is None:
        return ""
    computed: Computed | None = None
    if row.entry.counts_as == "computed":
        computed = step.measure.computed.get(row.entry.what)
    again = verdict_on(state, step, row, computed)
    if again is None or _follows(again) == _follows(written):
        return ""
    if again.outcome == written.outcome:
        return f"the reading on line {row.n} has another uncertainty or rule than its verdict says"
    return f"the reading on line {row.n} is {again.outcome}, and the verdict says {written.outcome}"


def _follows(verdict: Verdict) -> tuple[object, ...]:
    """What follows from the reading, its instrument and the rule."""
    doubt = (verdict.rule, verdict.uncertainty, verdict.coverage_factor, verdict.probability)
    return (verdict.outcome, verdict.out_by, *doubt)
