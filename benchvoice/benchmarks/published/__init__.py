"""Published values run through the library: `python -m benchvoice.benchmarks published FILE.json ...`.

A file is a list of cases: `{id, kind, inputs, expected, tolerance, ...}`. An adapter for each kind translates the
inputs, calls the library's own functions and names what they give; nothing here knows an answer. Each expected value
that differs is printed, then "N passed, N failed".
"""

from benchvoice.benchmarks.published.run import main

__all__ = ["main"]
