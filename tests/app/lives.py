"""The program in processes that can be killed, each forked from one that has imported it: starting costs nothing."""

import multiprocessing
import os
import sys
from contextlib import suppress
from multiprocessing.connection import Connection

import benchvoice.app.build
import benchvoice.app.commands.build  # noqa: F401
from benchvoice.app.main import run

FORKS = multiprocessing.get_context("forkserver")
FORKS.set_forkserver_preload([__name__])


class Life:
    """A run of the command line, which is typed to and killed."""

    def __init__(self, *arguments: str) -> None:
        typed, self._typing = FORKS.Pipe(duplex=False)
        printing, printed = FORKS.Pipe(duplex=False)
        self._process = FORKS.Process(target=_live, args=(arguments, typed, printed))
        self._process.start()
        typed.close()
        printed.close()
        self._printed = os.fdopen(os.dup(printing.fileno()), encoding="utf-8")
        printing.close()

    def read_line(self) -> str:
        """The next line that it prints."""
        return self._printed.readline()

    def type(self, lines: list[str]) -> None:
        """Type ahead; nothing where it has come to its end."""
        with suppress(BrokenPipeError):
            os.write(self._typing.fileno(), "".join(f"{line}\n" for line in lines).encode())

    def kill(self, after: float) -> str:
        """kill -9 once so many seconds have passed, unless it has come to its end by then; the rest that it printed."""
        self._process.join(after)
        self._process.kill()
        self._process.join()
        self._typing.close()
        with self._printed:
            return self._printed.read()


def _live(arguments: tuple[str, ...], typed: Connection, printed: Connection) -> None:
    os.dup2(typed.fileno(), 0)
    os.dup2(printed.fileno(), 1)
    typed.close()
    printed.close()
    sys.stdin, sys.stdout = os.fdopen(0), os.fdopen(1, "w")
    os.dup2(os.open(os.devnull, os.O_WRONLY), 2)
    sys.argv = ["benchvoice", *arguments]
    run()
