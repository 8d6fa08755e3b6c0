"""The shop's register at the edge: read from its file, with the uses that the logs of builds tell."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from benchvoice.app.conversation import facts_of
from benchvoice.app.places import builds_folder, register_file
from benchvoice.errors import BenchvoiceError
from benchvoice.log import list_builds, read_log
from benchvoice.procedure.register import load_register
from benchvoice.quantity.instruments import Instrument, Register
from benchvoice.session.entries import Override
from benchvoice.session.facts import Facts, Row
from benchvoice.session.instruments import register, registered_uses
from benchvoice.session.known_instruments import KnownInstrument

if TYPE_CHECKING:
    from benchvoice.app.conversation import Conversation


def known_instruments(file: Path | None, but: Path | None) -> tuple[KnownInstrument, ...] | None:
    """The register in a file, or in the user's data folder, with the uses in builds but one; None: there is none.

    Uses are counted only where one of the instruments is due by uses: that takes reading every log.
    """
    path = file or register_file()
    if path is None:
        return None
    shop = load_register(path)
    counted = any(each.due.uses is not None for each in shop)
    logs = tuple(facts for _, facts in logs_in(builds_folder(), but)) if counted else ()
    return tuple(KnownInstrument.of(each, uses_in(each, logs)) for each in shop)


def uses_in(instrument: Instrument, logs: tuple[Facts, ...]) -> int:
    """How often builds used an instrument since its last calibration."""
    return sum(registered_uses(facts, instrument.id, instrument.calibrated) for facts in logs)


def changed_instruments(file: Path | None, talk: "Conversation") -> tuple[KnownInstrument, ...] | None:
    """The register for a build that is resumed, where it is not the one that its log has; None where it is."""
    now = known_instruments(file, talk.build.path)
    before = register(talk.state.facts)
    if now is None or {each.id: each for each in now} == before:
        return None
    return now


def instrument_words(file: Path | None, facts: Facts) -> tuple[str, ...]:
    """The words that instruments are called by: of the register that is given, or that a build's log has."""
    path = file or register_file()
    named = [each.says for each in load_register(path)] if path is not None else []
    named += [each.names for each in register(facts).values()]
    return tuple(sorted({word for says in named for name in says for word in name.lower().split()}))


def logs_in(folder: Path, but: Path | None = None) -> Iterator[tuple[Path, Facts]]:
    """The facts of every build in a folder whose log can be read, but one."""
    for path in list_builds(folder):
        if but is not None and path.resolve() == but.resolve():
            continue
        try:
            yield path, facts_of(read_log(path).lines)
        except BenchvoiceError:
            continue


@dataclass(frozen=True, slots=True)
class Used:
    """An instrument of the register: its uses since its calibration, in how many builds, and its overrides there."""

    instrument: Instrument
    uses: int
    builds: tuple[Path, ...]
    overrides: tuple[tuple[Path, Row[Override]], ...]


def usage(shop: Register, logs: tuple[tuple[Path, Facts], ...]) -> tuple[Used, ...]:
    """What the logs of builds tell of each instrument."""
    found = []
    for each in shop:
        uses = {path: registered_uses(facts, each.id, each.calibrated) for path, facts in logs}
        overrides = tuple(
            (path, row)
            for path, facts in logs
            for row in facts.of(Override)
            if row.entry.instrument == each.id and each.id in register(facts)
        )
        builds = tuple(path for path, count in uses.items() if count)
        found.append(Used(each, sum(uses.values()), builds, overrides))
    return tuple(found)
