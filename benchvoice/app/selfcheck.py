"""What every spoken build needs, tried out: nothing here is believed because it is installed."""

import os
import platform
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import partial
from importlib import metadata
from pathlib import Path
from typing import TYPE_CHECKING

from benchvoice import __version__
from benchvoice.app.places import builds_folder, find_procedure, register_file, shipped_procedures
from benchvoice.errors import BenchvoiceError

if TYPE_CHECKING:
    from benchvoice.room.portaudio import Kind

PACKAGES = ("vosk", "pyttsx3", "espeakng-loader", "sounddevice", "soundfile", "soxr", "pint", "pydantic")


@dataclass(frozen=True, slots=True)
class Finding:
    """Something that was tried: whether it works, and whether a spoken build needs it."""

    what: str
    told: str
    fine: bool = True
    needed: bool = True


def check_machine(
    model: str | None = None, procedures: tuple[str, ...] = (), register: Path | None = None
) -> list[Finding]:
    """Everything, in order; nothing that fails stops the rest. Without a register, the user's own is looked at."""
    found = [
        _tried("versions", _versions),
        _tried("model", lambda: _model(model)),
        _tried("voice", _voice),
        _tried("builds", _builds),
        _tried("procedures", _procedures),
        _tried("microphone", lambda: _device("microphone"), needed=False),
        _tried("loudspeaker", lambda: _device("loudspeaker"), needed=False),
    ]
    shop = register or register_file()
    if shop is not None:
        found.append(_tried("instruments", lambda: _instruments(shop)))
        if found[-1].fine:
            found.append(_tried("calibrations", lambda: _calibrations(shop), needed=False))
    return [*found, *(_tried(f"words of {name}", partial(_words, name, model)) for name in procedures)]


class _NotSo(BenchvoiceError):
    """A try that ended otherwise than it must."""


def _tried(what: str, attempt: Callable[[], str], *, needed: bool = True) -> Finding:
    try:
        return Finding(what, attempt(), needed=needed)
    except BenchvoiceError as fault:
        return Finding(what, str(fault), fine=False, needed=needed)


def _versions() -> str:
    packages = ", ".join(f"{name} {metadata.version(name)}" for name in PACKAGES)
    return f"benchvoice {__version__}, Python {platform.python_version()}, {platform.platform()}; {packages}"


def _model(name: str | None) -> str:
    """Loads the model and has it hear a moment of silence, in which there is nothing."""
    import numpy as np

    from benchvoice.app.ears import model_folder
    from benchvoice.ear.decode import RATE, decode
    from benchvoice.ear.hear import grammar_of_words
    from benchvoice.ear.model import load_model

    model = load_model(model_folder(name))
    heard = decode(model, np.zeros(RATE // 2, np.int16), grammar_of_words(model, ["yes", "no", "done"]))
    if heard.known:
        raise _NotSo(f"{model.name} heard {heard.text!r} in silence; put the whole model there again.")
    free = "free speech too" if model.free_speech else "words from a list only"
    return f"{model.name}, {len(model.words)} words, {free}, hash {model.hash}"


def _voice() -> str:
    """Has the voice say something into memory."""
    from benchvoice.voice import Voice

    voice = Voice()
    sound = voice.say_to_buffer("main two")
    if not len(sound.samples) or not sound.samples.any():
        raise _NotSo("The voice gives no sound; reinstall the package espeakng-loader.")
    return f"{voice.name}, {len(sound.samples) / sound.rate:.1f} s for two words"


def _builds() -> str:
    """Writes into the builds' folder, or what will become it."""
    folder = builds_folder()
    there = next(path for path in (folder, *folder.parents) if path.is_dir())
    if not os.access(there, os.W_OK):
        raise _NotSo(f"{folder} can't be written; mend its permissions, or build with --out.")
    if there == folder:
        try:
            with tempfile.TemporaryFile(dir=folder):
                pass
        except OSError as fault:
            raise _NotSo(f"{folder} can't be written ({fault.strerror}); make room, or build with --out.") from fault
    return str(folder)


def _procedures() -> str:
    names = sorted(path.stem for path in shipped_procedures().glob("*.yaml"))
    if not names:
        raise _NotSo(f"No procedure is in {shipped_procedures()}; reinstall benchvoice.")
    return ", ".join(names)


def _instruments(shop: Path) -> str:
    """Reads the register, in which each instrument has an id and names of its own."""
    from benchvoice.procedure.register import load_register

    return f"{len(tuple(load_register(shop)))} in {shop}"


def _calibrations(shop: Path) -> str:
    """Whose calibration is due, by today's date or by the uses in builds."""
    from benchvoice.app.instruments import logs_in, usage
    from benchvoice.procedure.register import load_register
    from benchvoice.quantity.instruments import objections

    today = datetime.now(UTC).date()
    overdue = [
        f"{used.instrument.id} ({'; '.join(why)})"
        for used in usage(load_register(shop), tuple(logs_in(builds_folder())))
        if (why := objections(used.instrument, on=today, uses=used.uses))
    ]
    if overdue:
        raise _NotSo(f"Overdue: {', '.join(overdue)}; a build takes these only for a reason that is said.")
    return "none is overdue"


def _device(kind: "Kind") -> str:
    from benchvoice.room.portaudio import choose_format, find_device, load

    audio = load()
    device = find_device(audio, None, kind)
    taken = choose_format(audio, device, kind, 16_000)
    return f"{device.name} ({device.host}), {taken.rate} Hz"


def _words(name: str, model: str | None) -> str:
    """The words of a procedure that can't be heard, which fail it; those that would be learnt; answers that sound
    alike."""
    from benchvoice.app.ears import Lookalikes, lacking, model_folder
    from benchvoice.procedure.load import load
    from benchvoice.procedure.words import spoken_choices, spoken_words

    path: Path = find_procedure(name)
    procedure = load(path)
    words = spoken_words(procedure)
    found = lacking(words, model_folder(model))
    if found.unheard:
        raise _NotSo(f"The ear can't hear {', '.join(found.unheard)}; use other words in {path}.")
    learnt = f"; learnt from their spelling: {', '.join(found.learnt)}" if found.learnt else ""
    ear = Lookalikes(model_folder(model), procedure.words)
    pairs = dict.fromkeys(pair for _, choices in spoken_choices(procedure) for pair in ear.confused(choices))
    alike = f"; sounding alike: {', '.join(f'{one} and {other}' for one, other in pairs)}" if pairs else ""
    return f"all {len(words)} can be heard{learnt}{alike}"
