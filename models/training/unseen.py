"""Readings in a voice that no training hears: python unseen.py OUT (needs Festival and its voice ked_diphone).

Every teen, ten, thou and tenths, at three rates and two pitches, with a manifest for
`python -m benchvoice.benchmarks ear --manifest OUT/manifest.tsv --noise SPEECH`.
"""

import subprocess
import sys
from pathlib import Path

from texts import ONES, TEENS, TENS

RATES = (0.85, 1.0, 1.2)
PITCHES = (95, 125)
HEAD = "file\ttext\tspeaker\tset\tsplit\n"


def lines() -> list[str]:
    """Each word that is taken for another, alone and before a unit."""
    words = [*TEENS[3:], *TENS[1:]]
    with_units = [f"{word} {unit}" for word in words for unit in ("thou", "tenths")]
    return [*words, *with_units, *(f"{one} {unit}" for one in ONES[1:] for unit in ("thou", "tenths"))]


def saying(text: str, rate: float, pitch: int, path: Path) -> str:
    """Festival's expression that writes a text as sound; rate as a factor on durations, pitch in Hz."""
    return (
        f"(Parameter.set 'Duration_Stretch {rate}) "
        f"(set! int_lr_params '((target_f0_mean {pitch}) (target_f0_std 14) (model_f0_mean 170) (model_f0_std 34))) "
        f'(utt.save.wave (utt.synth (Utterance Text "{text}")) "{path}" \'riff)'
    )


def main() -> None:
    out = Path(sys.argv[1])
    out.mkdir(parents=True, exist_ok=True)
    rows, script = [], ['(voice_ked_diphone) (lex.add.entry \'("thou" nil (((th aw) 1))))']
    for rate in RATES:
        for pitch in PITCHES:
            for number, text in enumerate(lines()):
                path = out / f"{rate}-{pitch}-{number:02d}.wav"
                script.append(saying(text, rate, pitch, path))
                rows.append(f"{path.name}\t{text}\tked-{rate}-{pitch}\tunseen\ttest\n")
    (out / "manifest.tsv").write_text(HEAD + "".join(rows), encoding="utf-8")
    subprocess.run(["festival", "--pipe"], input="\n".join(script).encode(), check=True)


if __name__ == "__main__":
    main()
