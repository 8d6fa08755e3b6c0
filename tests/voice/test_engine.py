"""The voice through the real library. Sound of the same text differs from call to call, so lengths are compared."""

import os
import subprocess
import sys
import threading
from pathlib import Path

import numpy as np
import pytest

from benchvoice.errors import InputError, MachineError
from benchvoice.voice import UnknownVoice, Voice, VoiceError
from benchvoice.voice.engine import ACCENTS, variants

PROMPT = "Main caps, stage two. What's the wrench set to?"


def level(samples: np.ndarray) -> float:
    return float(np.sqrt((samples.astype(float) ** 2).mean()))


def test_gives_sound_at_the_rate_of_the_library() -> None:
    sound = Voice().say_to_buffer(PROMPT)
    assert sound.rate == 22050
    assert sound.samples.dtype == np.int16
    assert 2 < sound.seconds < 5
    assert level(sound.samples) > 1000


def test_every_prompt_is_whole_and_in_its_turn() -> None:
    voice = Voice()
    short, long = voice.say_to_buffer("Sixty."), voice.say_to_buffer(PROMPT)
    for _ in range(5):
        assert voice.say_to_buffer("Sixty.").seconds == pytest.approx(short.seconds, rel=0.02)
        assert voice.say_to_buffer(PROMPT).seconds == pytest.approx(long.seconds, rel=0.02)


def test_starts_and_ends_without_waiting() -> None:
    samples = Voice().say_to_buffer(PROMPT).samples
    loud = np.nonzero(np.abs(samples.astype(int)) > 200)[0]
    assert loud[0] < 0.1 * 22050
    assert len(samples) - loud[-1] < 0.1 * 22050


@pytest.mark.parametrize("text", ["", " ", "...", "\x00", "?!"])
def test_text_without_words_is_no_sound(text: str) -> None:
    assert len(Voice().say_to_buffer(text).samples) == 0


def test_a_nul_does_not_cut_the_text() -> None:
    assert Voice().say_to_buffer("sixty\x00newton metres").seconds > 1.5 * Voice().say_to_buffer("sixty").seconds


def test_rate_is_in_words_a_minute() -> None:
    slow, fast = Voice(rate=100).say_to_buffer(PROMPT), Voice(rate=200).say_to_buffer(PROMPT)
    assert slow.seconds / fast.seconds == pytest.approx(2, rel=0.25)


def test_loudness_scales_the_sound() -> None:
    loud, soft = Voice(loudness=1).say_to_buffer(PROMPT), Voice(loudness=0.25).say_to_buffer(PROMPT)
    assert level(loud.samples) / level(soft.samples) == pytest.approx(4, rel=0.1)
    assert np.abs(loud.samples.astype(int)).max() < 32767
    assert level(Voice(loudness=0).say_to_buffer(PROMPT).samples) < 10


def test_voices_do_not_leak_into_one_another() -> None:
    slow, fast = Voice(rate=100), Voice("en-gb+f3", rate=250)
    alone = slow.say_to_buffer(PROMPT).seconds
    fast.say_to_buffer(PROMPT)
    assert slow.say_to_buffer(PROMPT).seconds == pytest.approx(alone, rel=0.02)


def test_threads_get_their_own_whole_prompts() -> None:
    voices = [Voice(rate=100), Voice(rate=140), Voice("en-gb+m3", rate=200), Voice("en-gb+f3", rate=250)]
    alone = [voice.say_to_buffer("number seven").seconds for voice in voices]
    heard: list[tuple[int, float]] = []

    def speak(index: int) -> None:
        for _ in range(25):
            heard.append((index, voices[index].say_to_buffer("number seven").seconds))

    threads = [threading.Thread(target=speak, args=(index,)) for index in range(len(voices))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(30)
    assert len(heard) == 100
    assert all(seconds == pytest.approx(alone[index], rel=0.02) for index, seconds in heard)


@pytest.mark.parametrize("accent", ACCENTS)
def test_every_accent_is_there(accent: str) -> None:
    assert Voice(accent).say_to_buffer("yes").seconds > 0.2


def test_variants_are_listed_from_the_data() -> None:
    assert {"f3", "m3"} <= set(variants())


@pytest.mark.parametrize(
    "settings",
    [
        {"name": "xx"},
        {"name": "en-gb+nobody"},
        {"name": "en-gb+../m3"},
        {"name": "en-gb+"},
        {"rate": 20},
        {"loudness": 1.5},
    ],
)
def test_what_it_does_not_have_is_an_input_error(settings: dict[str, object]) -> None:
    with pytest.raises(UnknownVoice) as caught:
        Voice(**settings)  # type: ignore[arg-type]
    assert isinstance(caught.value, InputError)


def run(code: str, **environment: str) -> subprocess.CompletedProcess[str]:
    """Run code in a fresh process: the library can be started once only in each."""
    return subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=60, env={**os.environ, **environment}
    )


def test_missing_data_is_a_sentence_and_does_not_end_the_process(tmp_path: Path) -> None:
    code = (
        "import espeakng_loader, sys\n"
        f"espeakng_loader.get_data_path = lambda: {str(tmp_path)!r}\n"
        "from benchvoice.voice import Voice, VoiceError\n"
        "try: Voice()\n"
        "except VoiceError as error: print('caught', error)\n"
    )
    result = run(code)
    assert result.returncode == 0, result.stderr
    assert result.stdout.startswith("caught The voice's data can't be read in")
    assert "pip install" in result.stdout


@pytest.mark.parametrize("package", ["espeakng_loader", "pyttsx3"])
def test_a_missing_package_is_a_sentence_with_its_remedy(package: str) -> None:
    code = (
        f"import sys; sys.modules[{package!r}] = None\n"
        "from benchvoice.voice import Voice, VoiceError\n"
        "try: Voice()\n"
        "except VoiceError as error: print(error)\n"
    )
    assert f"pip install {package.replace('_', '-')}" in run(code).stdout


def test_a_missing_library_is_a_sentence() -> None:
    code = (
        "import espeakng_loader; espeakng_loader.get_library_path = lambda: '/nowhere/libespeak-ng.so'\n"
        "from benchvoice.voice import Voice, VoiceError\n"
        "try: Voice()\n"
        "except VoiceError as error: print(error)\n"
    )
    assert run(code).stdout.startswith("The voice's library can't be loaded (")
    assert issubclass(VoiceError, MachineError)


def test_data_at_a_long_path_is_reached_through_a_short_one_that_goes_again(tmp_path: Path) -> None:
    import espeakng_loader

    deep = tmp_path / ("a" * 100) / ("b" * 100)
    deep.mkdir(parents=True)
    (deep / "espeak-ng-data").symlink_to(espeakng_loader.get_data_path(), target_is_directory=True)
    short = tmp_path / "t"
    short.mkdir()
    code = (
        f"import espeakng_loader, os; espeakng_loader.get_data_path = lambda: {str(deep / 'espeak-ng-data')!r}\n"
        "from benchvoice.voice import Voice\n"
        f"print(Voice('en-gb+f3').say_to_buffer('yes').seconds > 0.2, len(os.listdir({str(short)!r})))\n"
    )
    result = run(code, TMPDIR=str(short))
    assert result.stdout == "True 1\n", result.stderr
    assert list(short.iterdir()) == []


def test_importing_the_package_loads_neither_pyttsx3_nor_the_library() -> None:
    code = (
        "import sys, benchvoice.voice; print([name for name in ('pyttsx3', 'espeakng_loader') if name in sys.modules])"
    )
    assert run(code).stdout == "[]\n"
