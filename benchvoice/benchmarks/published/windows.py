"""Adapter of windows of time."""

from datetime import datetime, timedelta
from decimal import Decimal
from fractions import Fraction

from benchvoice.benchmarks.published.notation import Inputs, Outputs
from benchvoice.quantity import windows
from benchvoice.quantity.windows import Age, Window


def _window(inputs: Inputs) -> Outputs:
    closes = inputs.get("closes_s")
    window = Window(
        opens=Decimal(str(inputs.get("opens_s") or 0)), closes=None if closes is None else Decimal(str(closes))
    )
    if "start_monotonic_s" in inputs:
        age = windows.age_by_monotonic(Fraction(inputs["start_monotonic_s"]), Fraction(inputs["now_monotonic_s"]))
        wall = _seconds(inputs["start_wall"], inputs["now_wall"])
        return {**_in_window(window, age), "wall_jumped": windows.jumped(age.most, wall)}
    passed = _seconds(inputs["start"], inputs["now"])
    return _in_window(window, windows.age_across_restart(wall=passed, known=0, gap=passed))


def _in_window(window: Window, age: Age) -> Outputs:
    return {"age_s": age.most, "state": str(windows.state(window, age)), "remaining_s": windows.remaining(window, age)}


def _seconds(start: str, now: str) -> Fraction:
    """Between two instants, whatever their offsets, exactly."""
    passed = datetime.fromisoformat(now) - datetime.fromisoformat(start)
    return Fraction(passed // timedelta(microseconds=1), 1_000_000)


KINDS = {"window": _window}
