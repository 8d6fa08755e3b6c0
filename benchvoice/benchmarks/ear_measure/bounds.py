"""Exact 95 % bounds on counted things: shares (Clopper-Pearson) and rates (Poisson), by bisection, without tables."""

from __future__ import annotations

import math
from collections.abc import Callable

TAIL = 0.025
"""Probability left out at each end."""


def _log_choose(n: int, k: int) -> float:
    return math.lgamma(n + 1) - math.lgamma(k + 1) - math.lgamma(n - k + 1)


def binomial_at_most(k: int, n: int, p: float) -> float:
    """P(X <= k) for X binomial (n, p)."""
    if p <= 0 or k >= n:
        return 1.0
    if p >= 1:
        return 0.0
    return min(1.0, sum(math.exp(_log_choose(n, i) + i * math.log(p) + (n - i) * math.log1p(-p)) for i in range(k + 1)))


def poisson_at_most(k: int, mean: float) -> float:
    """P(X <= k) for X Poisson."""
    if mean <= 0:
        return 1.0
    return min(1.0, sum(math.exp(i * math.log(mean) - mean - math.lgamma(i + 1)) for i in range(k + 1)))


def _falling_root(f: Callable[[float], float], target: float, high: float) -> float:
    """Where a falling function passes the target, between 0 and high."""
    low = 0.0
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if f(middle) > target else (low, middle)
    return (low + high) / 2


def share_bounds(k: int, n: int) -> tuple[float, float]:
    """Clopper-Pearson bounds (1934) on a share of which k of n were counted; (0, 1) when nothing was."""
    if n == 0:
        return 0.0, 1.0
    low = 0.0 if k == 0 else _falling_root(lambda p: binomial_at_most(k - 1, n, p), 1 - TAIL, 1.0)
    high = 1.0 if k == n else _falling_root(lambda p: binomial_at_most(k, n, p), TAIL, 1.0)
    return low, high


def rate_bounds(k: int, amount: float) -> tuple[float, float]:
    """Exact Poisson bounds (Garwood 1936) on a rate of which k were counted in an amount (hours, say)."""
    if amount <= 0:
        return 0.0, math.inf
    most = 10.0 + 4 * (k + 1)
    low = 0.0 if k == 0 else _falling_root(lambda m: poisson_at_most(k - 1, m), 1 - TAIL, most)
    high = _falling_root(lambda m: poisson_at_most(k, m), TAIL, most)
    return low / amount, high / amount
