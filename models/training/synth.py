"""Make synthetic speech: espeak-ng (through espeakng-loader), flite, and the Kokoro net (onnxruntime).

    python synth.py espeak TEXT_FOLDER OUT --seconds 100 --jobs 16
    python synth.py flite  TEXT_FOLDER OUT --program flite
    python synth.py kokoro TEXT_FOLDER OUT --model kokoro.onnx --vocabulary vocab.json --voices FOLDER

TEXT_FOLDER is what texts.py wrote. Every job draws lines at random until its time is up and writes
shards (shards.py), so training can start on the first ones while the rest are made.
"""

import argparse
import ctypes
import json
import os
import random
import subprocess
import tempfile
import time
import wave
from multiprocessing import Process
from pathlib import Path

import numpy as np
from phones import GARBAGE, VOWELS, Pronunciation, choose, load_lexicon
from shards import ShardWriter, to_16k, trim
from texts import COMMANDS, ONES, PLACES, TEENS, TENS, UNIT_WORDS


def _words(text: str) -> list[str]:
    return text.split()


ACCENTS = (
    ["en-us"] * 6
    + ["en-gb"] * 4
    + ["en-gb-x-rp"] * 3
    + ["en-gb-scotland", "en-gb-x-gbclan", "en-gb-x-gbcwmd", "en-029", "en-us-nyc"]
)
RHOTIC = {"en-us": True, "en-gb-scotland": True, "en-us-nyc": None, "en-029": None}
VARIANTS = _words("""
    Alex Alicia Andrea Andy Annie Denis Diogo Gene Gene2 Henrique Hugo Jacky Lee Marco Mario Michael Mike Nguyen
    Reed adam anika announcer antonio aunty belinda benjamin boris caleb david ed edward edward2 f1 f2 f3 f4 f5
    gustave ian iven iven2 iven3 iven4 john kaukovalta klatt klatt2 klatt3 klatt4 klatt5 klatt6 linda m1 m2 m3
    m4 m5 m6 m7 m8 marcelo max michel miguel mike2 norbert pablo paul pedro quincy rob robert sandro shelby
    steph steph2 steph3 travis victor zac
""")
FOREIGN = ["de", "fr", "es", "it", "nl", "pl", "pt", "sv", "fi", "hu", "ro", "el", "tr", "cs", "id", "hi", "ar"]
ESPEAK_PHONES = dict(
    zip(
        _words("""
            AA AE AH AO AW AY B CH D DH EH ER EY F G HH IH IY JH K L M N NG OW OY P R S SH T TH UH UW V W Y Z ZH
        """),
        _words("""
            A: a V O: aU aI b tS d D E 3: eI f g h I i: dZ k l m n N oU OI p r s S t T U u: v w j z Z
        """),
        strict=True,
    )
)
IPA = dict(
    zip(
        _words("""
            AA AE AO AW AY EH EY IH IY OW OY UH UW B CH D DH F G HH JH K L M N NG P R S SH T TH V W Y Z ZH
        """),
        _words("""
            ɑ æ ɔ W I ɛ A ɪ i O Y ʊ u b ʧ d ð f ɡ h ʤ k l m n ŋ p ɹ s ʃ t θ v w j z ʒ
        """),
        strict=True,
    )
)
BY_PHONES = {"thou", "thous", "psi", "rpm", "cc", "juliett", "alfa", "endfloat", "conrod", "oh"}
"""Words that espeak-ng would spell or say otherwise than the lexicon: it is given their phones."""
BENCH_WORDS = {w for group in (ONES, TEENS, TENS, COMMANDS, UNIT_WORDS, PLACES) for p in group for w in p.split()}
NOT_FLITE = BY_PHONES | {"castellated", "plastigauge", "x-ray"}


class Espeak:
    """espeak-ng in this process, synchronous, through its C interface."""

    def __init__(self) -> None:
        import espeakng_loader

        self.library = ctypes.CDLL(espeakng_loader.get_library_path())
        data = str(Path(espeakng_loader.get_data_path()).parent)
        self.rate = self.library.espeak_Initialize(2, 200, data.encode(), 0)  # 2: AUDIO_OUTPUT_SYNCHRONOUS
        self.blocks: list[np.ndarray] = []
        callback = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.POINTER(ctypes.c_short), ctypes.c_int, ctypes.c_void_p)
        self.callback = callback(self._block)  # kept: the library holds only the pointer
        self.library.espeak_SetSynthCallback(self.callback)

    def _block(self, samples: "ctypes._Pointer[ctypes.c_short]", count: int, _events: object) -> int:
        if count > 0:
            self.blocks.append(np.ctypeslib.as_array(samples, (count,)).copy())
        return 0

    def say(self, text: str, voice: str, rate: float, pitch: float, spread: float, gap: int) -> np.ndarray:
        """Speak text ([[…]] holds phonemes); rate in words a minute, pitch and its range 0-100, gap in 10 ms."""
        if self.library.espeak_SetVoiceByName(voice.encode()) != 0:
            return np.zeros(0, np.int16)
        for number, value in ((1, rate), (3, pitch), (4, spread), (7, gap)):
            self.library.espeak_SetParameter(number, int(value), 0)
        self.blocks = []
        raw = text.encode()
        self.library.espeak_Synth(raw, len(raw) + 1, 0, 1, 0, 1 | 0x100, None, None)  # UTF-8, phonemes allowed
        return np.concatenate(self.blocks) if self.blocks else np.zeros(0, np.int16)


def espeak_job(args: argparse.Namespace, job: int, lines: list[str]) -> None:
    r = random.Random(f"espeak {args.seed} {job}")
    lexicon = load_lexicon(args.text / "lexicon.json")
    engine, out = Espeak(), ShardWriter(args.out, f"espeak_{args.seed}_{job}")
    phonemes = {
        w: "[[" + " ".join(ESPEAK_PHONES[p] for p in lexicon[w][0]).replace(" ", "") + "]]"
        for w in lexicon
        if w in BY_PHONES or (len(w) == 1 and w not in "ai")
    }
    phonemes |= {"a": "[[eI]]", "w": "double you"}
    end = time.monotonic() + args.seconds
    while time.monotonic() < end:
        text = r.choice(lines)
        variant = r.choice(VARIANTS)
        if r.random() < args.foreign:
            voice = r.choice(FOREIGN)
            # no word that the bench uses: some sound the same in another language's voice
            spoken = " ".join(w for w in text.split() if len(w) > 4 and w not in BENCH_WORDS) or "so la ti do"
            said, rhotic = GARBAGE, None
        else:
            voice = r.choice(ACCENTS)
            words = text.split()
            spoken = " ".join(phonemes.get(w, w) if w != "a" or len(words) == 1 else w for w in words)
            said, rhotic = text, RHOTIC.get(voice, False)
        samples = engine.say(
            spoken,
            f"{voice}+{variant}",
            r.uniform(115, 235),
            r.uniform(15, 85),
            r.uniform(15, 80),
            r.choice([0, 0, 0, 1, 2, 4, 8]),
        )
        out.add(trim(to_16k(samples, engine.rate)), said, f"{voice}+{variant}", None, rhotic)
    out.flush()


def flite_job(args: argparse.Namespace, job: int, lines: list[str]) -> None:
    r = random.Random(f"flite {args.seed} {job}")
    out = ShardWriter(args.out, f"flite_{args.seed}_{job}")
    end = time.monotonic() + args.seconds
    letters = {"a": "ay", "w": "double you"}
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "line.wav"
        while time.monotonic() < end:
            text = r.choice(lines)
            words = text.split()
            if NOT_FLITE & set(words):
                continue
            voice = r.choice(["slt", "rms", "awb", "slt", "rms", "awb", "kal16"])
            spoken = " ".join(letters.get(w, w) if len(words) == 1 or w != "a" else w for w in words)
            subprocess.run(
                [
                    args.program,
                    "-voice",
                    voice,
                    "--setf",
                    f"duration_stretch={r.uniform(0.75, 1.3):.2f}",
                    "-t",
                    spoken,
                    "-o",
                    str(path),
                ],
                check=False,
                stderr=subprocess.DEVNULL,
            )
            with wave.open(str(path)) as file:
                samples = np.frombuffer(file.readframes(file.getnframes()), np.int16)
                out.add(trim(to_16k(samples, file.getframerate())), text, f"flite-{voice}", None, True)
    out.flush()


def kokoro_phonemes(pronunciations: list[Pronunciation], british: bool) -> str:
    """Write phones in Kokoro's alphabet; the first vowel of a word carries its stress (the lexicon has none)."""
    words = []
    for phones in pronunciations:
        first = next((i for i, p in enumerate(phones) if p in VOWELS), -1)
        text = ""
        for i, phone in enumerate(phones):
            stressed = i == first
            if phone == "AH":
                sound = "ʌ" if stressed else "ə"
            elif phone == "ER":
                sound = ("ɜː" if british else "ɜɹ") if stressed else ("ə" if british else "əɹ")
            elif phone == "OW" and british:
                sound = "Q"
            else:
                sound = IPA[phone] + ("ː" if british and phone in ("AA", "AO", "IY", "UW") else "")
            text += ("ˈ" if stressed else "") + sound
        words.append(text)
    return " ".join(words)


def kokoro_job(args: argparse.Namespace, job: int, lines: list[str]) -> None:
    import onnxruntime

    r = random.Random(f"kokoro {args.seed} {job}")
    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = options.inter_op_num_threads = 1
    session = onnxruntime.InferenceSession(str(args.model), options, providers=["CPUExecutionProvider"])
    token = json.loads(args.vocabulary.read_text())["vocab"]
    voices = {p.stem: np.fromfile(p, np.float32).reshape(-1, 1, 256) for p in sorted(args.voices.glob("*.bin"))}
    english = [v for v in voices if v[0] in "ab"]
    lexicon = load_lexicon(args.text / "lexicon.json")
    out = ShardWriter(args.out, f"kokoro_{args.seed}_{job}", seconds=60)
    end = time.monotonic() + args.seconds
    while time.monotonic() < end:
        text = r.choice(lines)
        words = text.split()
        one = r.choice(english if r.random() < 0.7 else list(voices))
        name, style = one, voices[one]
        if r.random() < 0.6:  # a voice between two others: more speakers than there are
            two = r.choice(list(voices))
            share = r.uniform(0.2, 0.8)
            name, style = f"{one}-{two}-{share:.1f}", voices[one] * share + voices[two] * (1 - share)
        british = one[0] == "b" or r.random() < 0.2
        chosen = [r.choice(choose(lexicon[w], not british)) for w in words]
        if "a" in words and len(words) > 1 and r.random() < 0.5:
            chosen = [("AH",) if w == "a" else p for w, p in zip(words, chosen, strict=True)]
        gap = ", " if r.random() < 0.15 else " "
        ids = [token[c] for c in kokoro_phonemes(chosen, british).replace(" ", gap) + r.choice([".", ".", "", "!"])]
        if not 0 < len(ids) < 200:
            continue
        feed = {
            "tokens": [[0, *ids, 0]],
            "style": style[min(len(ids), len(style) - 1)],
            "speed": np.array([r.uniform(0.75, 1.3)], np.float32),
        }
        samples = np.asarray(session.run(None, feed)[0], np.float32).reshape(-1)
        peak = float(np.abs(samples).max()) or 1.0
        out.add(
            trim(to_16k(samples * (20_000 / peak), 24_000)), text, "kokoro-" + name, [" ".join(p) for p in chosen], None
        )
    out.flush()


JOBS = {"espeak": espeak_job, "flite": flite_job, "kokoro": kokoro_job}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("engine", choices=JOBS)
    parser.add_argument("text", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument("--jobs", type=int, default=os.cpu_count())
    parser.add_argument("--seconds", type=float, default=100.0, help="wall time to work")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--foreign", type=float, default=0.04, help="share of lines in other languages, as garbage")
    parser.add_argument("--program", default="flite")
    parser.add_argument("--model", type=Path)
    parser.add_argument("--vocabulary", type=Path)
    parser.add_argument("--voices", type=Path)
    args = parser.parse_args()
    args.out.mkdir(parents=True, exist_ok=True)
    lines = (args.text / "lines.txt").read_text().split("\n")[:-1]
    jobs = [Process(target=JOBS[args.engine], args=(args, k, lines)) for k in range(args.jobs)]
    for process in jobs:
        process.start()
    for process in jobs:
        process.join()
    total = sum(row[1] for f in args.out.glob(f"{args.engine}_{args.seed}_*.json") for row in json.loads(f.read_text()))
    print(f"{args.engine}: {total / 16_000 / 3600:.2f} h", flush=True)


if __name__ == "__main__":
    main()
