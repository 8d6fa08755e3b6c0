"""Run by test_kill: resumes the build in argv[1] and appends turns for ever, telling each one's last n on stdout."""

import sys
from pathlib import Path

from benchvoice.log import open_build

from .samples import turn


def main() -> None:
    build = open_build(Path(sys.argv[1]))
    while True:
        lines = build.append(turn(build.writer.next_n))
        sys.stdout.write(f"{lines[-1].n} {lines[-1].digest}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
