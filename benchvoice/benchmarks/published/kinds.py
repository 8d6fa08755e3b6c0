"""The adapters of all kinds of case: every module of this package that has `KINDS` adds its own."""

from collections.abc import Callable, Mapping
from importlib import import_module
from pkgutil import iter_modules
from typing import Any

import benchvoice.benchmarks.published as package

Adapter = Callable[[Mapping[str, Any]], Mapping[str, Any]]


def kinds() -> dict[str, Adapter]:
    """Kind of case to its adapter."""
    found: dict[str, Adapter] = {}
    for module in iter_modules(package.__path__):
        adapters = getattr(import_module(f"{package.__name__}.{module.name}"), "KINDS", {})
        for kind, adapter in adapters.items():
            if kind in found:
                raise ValueError(f"two adapters for {kind}: the second is in {module.name}")
            found[kind] = adapter
    return found
