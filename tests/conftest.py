"""How the tests run: no example is timed, and whole folders are shared out among processes.

They are shared by file, so that a file's costly fixtures are made once. The virtual rooms stay together in one process,
one after another: each plays in real time, and a second one would take the processor that it listens with.
"""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

# A processor that does something else meanwhile is no fault of what is tested.
settings.register_profile("untimed", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("untimed")


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers(config: pytest.Config) -> int | None:
    """One process a processor (None); no other process where nothing but files or tests are named: that is quicker."""
    return 0 if all(Path(each.partition("::")[0]).is_file() for each in config.args) else None


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        in_room = item.get_closest_marker("room") is not None
        item.add_marker(pytest.mark.xdist_group("room" if in_room else item.nodeid.partition("::")[0]))
