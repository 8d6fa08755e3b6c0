"""The vosk package, imported where it is first needed, so that typed builds never pay for it."""

from __future__ import annotations

from typing import Any

from benchvoice.ear.layout import ModelError


def import_vosk() -> Any:
    """The vosk package, its log turned off. ModelError where it can't be used."""
    try:
        import vosk
    except (ImportError, OSError) as fault:
        raise ModelError(
            f"The package vosk, which hears, can't be used here ({fault}); reinstall benchvoice, or build with --typed."
        ) from fault
    vosk.SetLogLevel(-2)  # errors alone: at -1 it warns of every long noise whose lattice grew too large
    return vosk
