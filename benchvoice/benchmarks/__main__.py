"""`python -m benchvoice.benchmarks NAME [ARGUMENT ...]`: runs one benchmark, importing no other."""

import sys
from collections.abc import Callable, Mapping
from importlib import import_module
from types import MappingProxyType

# Name, and what it tells. Each is a module beside this one with a `main(arguments) -> exit status`.
BENCHMARKS: Mapping[str, str] = MappingProxyType(
    {
        "published": "published FILE.json ...: the library's figures against published ones",
        "log": "log [FOLDER]: what a durable log costs",
        "ear": "ear [FOLDER]: how well and how fast speech is understood",
        "calibrate": "calibrate --speech FOLDER: how far the ear's confidence can be believed",
        "hours": "hours [HOURS] --speech FOLDER: what hours of other speech and noise do to a build",
        "fit": "fit --speech FOLDER: what a fit to one person does",
        "start": "start [RUNS]: how long until the first spoken word",
        "answer": "answer [READINGS]: from the end of an utterance to its verdict and the answer's sound",
    }
)


def main(arguments: list[str]) -> int:
    """Run the benchmark that the first argument names; 2 when there is none of that name."""
    name = arguments[0] if arguments else ""
    if name not in BENCHMARKS:
        wrong = f"there is no benchmark {name!r}" if name else "say which benchmark"
        print(f"{wrong}: use one of {'; '.join(BENCHMARKS.values())}", file=sys.stderr)
        return 2
    module = f"benchvoice.benchmarks.{name}"
    try:
        run: Callable[[list[str]], int] = import_module(module).main
    except ModuleNotFoundError as missing:
        if missing.name != module:
            raise
        print(f"the benchmark {name!r} is not part of this installation", file=sys.stderr)
        return 2
    return run(arguments[1:])


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
