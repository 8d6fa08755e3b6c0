"""From starting the program to its first spoken word: medians of whole processes, with what they were made of.

python -m benchvoice.benchmarks start [RUNS]
"""

import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

_FIRST_WORD = """
import sys, time
from pathlib import Path
from benchvoice.app.build import build
from benchvoice.app.options import BuildOptions
import benchvoice.app.speaker as speaker
said = speaker.Speaker.say
def first(self, prompt):
    said(self, prompt)
    print("FIRST", flush=True)
    raise SystemExit(0)
speaker.Speaker.say = first
build(BuildOptions(procedure=Path(sys.argv[1]), wav=Path(sys.argv[2]), out=Path(sys.argv[3])))
"""


def main(argv: Sequence[str]) -> int:
    """Run the benchmark; `argv` may hold the number of runs."""
    runs = int(argv[0]) if argv else 7
    from benchvoice.app.places import find_procedure  # a benchmark's own imports are not what it measures

    procedure = str(find_procedure("launch-bottom-end"))
    with tempfile.TemporaryDirectory() as folder:
        wav = _silence(Path(folder))
        spoken = [_timed([_FIRST_WORD, procedure, str(wav), f"{folder}/{n}"]) for n in range(runs)]
        bare = [_timed(["print('FIRST')"]) for _ in range(runs)]
    print(f"start to the end of the first prompt's synthesis, spoken build: median {statistics.median(spoken):.2f} s")
    print(f"a bare Python process: median {statistics.median(bare):.2f} s; {runs} runs each, a virtual room")
    return 0


def _silence(folder: Path) -> Path:
    import numpy as np
    import soundfile

    file = folder / "silence.wav"
    soundfile.write(file, np.zeros(16_000, np.int16), 16_000)
    return file


def _timed(arguments: list[str]) -> float:
    began = time.perf_counter()
    done = subprocess.run([sys.executable, "-c", *arguments], capture_output=True, text=True, check=False)
    if "FIRST" not in done.stdout:
        raise RuntimeError(done.stderr)
    return time.perf_counter() - began
