"""A virtual room of PulseAudio null sinks: a program in it has a microphone and a loudspeaker, without a sound card.

    speaker  the sink that is the program's loudspeaker
    air      the sink that is what its microphone hears; a person speaks by playing into it
    mic      the source that is the program's microphone: what sounds in the air

Needs the programs pulseaudio, pactl, pacat and parec, ALSA's plugin for PulseAudio, and PortAudio (on Debian: the
packages pulseaudio, pulseaudio-utils, libasound2-plugins, libportaudio2). Nothing of it outlives the room, and it
touches no sound server of the user's.
"""

import contextlib
import ctypes.util
import os
import shutil
import subprocess
import tempfile
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from benchvoice.room import Samples
from benchvoice.testing.levels import LevelMeter

_CONFIGURATION = """\
load-module module-native-protocol-unix auth-anonymous=1 socket={folder}/native
load-module module-null-sink sink_name=speaker rate=48000 channels=1
load-module module-null-sink sink_name=air rate=48000 channels=1
load-module module-remap-source master=air.monitor source_name=mic
set-default-sink speaker
set-default-source mic
"""

_PROGRAMS = ("pulseaudio", "pactl", "pacat", "parec")
_ALSA_PLUGIN = "lib*/**/alsa-lib/libasound_module_pcm_pulse.so"
_START_S = 15.0
_STOP_S = 5.0
_MURMUR = "4400"  # of 65536, cubic: white noise some 75 dB under full scale, so that the air is never exact zeros


def missing() -> str | None:
    """What this machine lacks for a virtual room, in words; None where it has all."""
    lacking = [program for program in _PROGRAMS if shutil.which(program) is None]
    if ctypes.util.find_library("portaudio") is None:
        lacking.append("libportaudio")
    if not any(Path("/usr").glob(_ALSA_PLUGIN)):
        lacking.append("ALSA's plugin for PulseAudio")
    return f"a virtual room needs {', '.join(lacking)}" if lacking else None


@dataclass(frozen=True)
class VirtualSoundRoom:
    """A running room: start programs in it with `environment`, speak to them, hear when they speak."""

    environment: dict[str, str]
    server: "subprocess.Popen[bytes]"
    speaker: LevelMeter

    def start(self, command: Sequence[str]) -> "subprocess.Popen[str]":
        """Start a program that finds its microphone and loudspeaker here; its output in text, line by line."""
        return subprocess.Popen(
            command,
            env={**os.environ, **self.environment, "PYTHONUNBUFFERED": "1"},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )

    def say(self, samples: Samples, rate: int) -> None:
        """Speak into the air, to the end."""
        subprocess.run(
            ["pacat", "--device=air", f"--rate={rate}", "--channels=1", "--format=s16le", "--latency-msec=100"],
            env={**os.environ, **self.environment},
            input=samples.astype("<i2").tobytes(),
            check=True,
            timeout=len(samples) / rate + 10,
        )

    def wait_for_prompt(self, quiet: float = 0.6, timeout: float = 30.0) -> float:
        """Wait until the program has spoken and then been quiet for so many seconds; returns how long it spoke.

        Raises TimeoutError where nothing, or no end, comes.
        """
        return self.speaker.wait_for_sound_and_quiet(quiet, timeout)

    def kill_server(self) -> None:
        """Take every device away at once, as when a USB sound card is pulled out."""
        self.server.kill()
        self.server.wait(_STOP_S)


@contextlib.contextmanager
def virtual_room(
    *, echo_ms: int | None = None, echo_db: float = -12.0, murmur: bool = True
) -> Iterator[VirtualSoundRoom]:
    """A room for as long as the context lasts; it takes some two seconds to start.

    echo_ms: the loudspeaker is heard in the air so much later and by echo_db softer; None: not at all.
    murmur: the air has a faint noise, as any real one; without it the microphone gives exact zeros.
    """
    with contextlib.ExitStack() as stack:
        folder = Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="room")))
        own = {"PULSE_RUNTIME_PATH": str(folder), "PULSE_STATE_PATH": str(folder), "HOME": str(folder)}
        inside = {**own, "PULSE_SERVER": f"unix:{folder}/native"}
        environment = {**os.environ, **inside}
        server = stack.enter_context(_server(folder, own, echo_ms))
        _wait_until_up(environment)
        if echo_ms is not None:
            _set_echo_level(environment, echo_db)
        # A null sink begins with one block of two seconds: what sounds before it has passed is lost. Clients that ask
        # for little latency, held for the room's life, make it work in small blocks.
        stack.enter_context(_running(["parec", "-d", "mic", "--latency-msec=10"], environment))
        stack.enter_context(_running(["pacat", "-d", "speaker", "--latency-msec=10", "/dev/zero"], environment))
        if murmur:
            stack.enter_context(
                _running(["pacat", "-d", "air", f"--volume={_MURMUR}", "--channels=1", "/dev/urandom"], environment)
            )
        _wait_until_heard(environment)
        speaker = stack.enter_context(LevelMeter.of("speaker.monitor", environment))
        yield VirtualSoundRoom(inside, server, speaker)


@contextlib.contextmanager
def _server(folder: Path, own: dict[str, str], echo_ms: int | None) -> Iterator["subprocess.Popen[bytes]"]:
    """The sound server. It must not see PULSE_SERVER itself."""
    configuration = _CONFIGURATION.format(folder=folder)
    if echo_ms is not None:
        configuration += (
            f"load-module module-loopback source=speaker.monitor sink=air latency_msec={echo_ms} adjust_time=0\n"
        )
    (folder / "room.pa").write_text(configuration)
    outside = {key: value for key, value in os.environ.items() if key != "PULSE_SERVER"}
    command = ["pulseaudio", "-n", "-F", f"{folder}/room.pa", "--daemonize=no", "--use-pid-file=no"]
    command += ["--exit-idle-time=-1", "--realtime=no", "--high-priority=no", "--log-target=stderr"]
    with _running(command, {**outside, **own}) as process:
        yield process


@contextlib.contextmanager
def _running(command: Sequence[str], environment: dict[str, str]) -> Iterator["subprocess.Popen[bytes]"]:
    """A helper process, ended with the context."""
    process = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        yield process
    finally:
        process.terminate()
        try:
            process.wait(_STOP_S)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait(_STOP_S)


def _wait_until_up(environment: dict[str, str]) -> None:
    end = time.monotonic() + _START_S
    while subprocess.run(["pactl", "info"], env=environment, capture_output=True, check=False).returncode:
        if time.monotonic() > end:
            raise TimeoutError(f"the virtual room's sound server did not start in {_START_S:.0f} s")
        time.sleep(0.05)


def _set_echo_level(environment: dict[str, str], echo_db: float) -> None:
    listed = subprocess.run(
        ["pactl", "list", "short", "sink-inputs"], env=environment, capture_output=True, text=True, check=True
    )
    number = listed.stdout.split()[0]
    subprocess.run(["pactl", "set-sink-input-volume", number, f"{echo_db}dB"], env=environment, check=True)


def _wait_until_heard(environment: dict[str, str]) -> None:
    """Wait until the microphone delivers."""
    with subprocess.Popen(
        ["parec", "-d", "mic", "--latency-msec=10"], env=environment, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
    ) as process:
        assert process.stdout is not None
        process.stdout.read(8820)  # 50 ms
        process.terminate()
