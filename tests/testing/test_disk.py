"""The virtual disk loses what it should, so that the log's tests mean something."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.log.storage import write_durably
from benchvoice.testing.disk import Loss, PowerCut, Trouble, VirtualDisk

ROOT = Path("bench")


def _written(disk: VirtualDisk, *, synced: bytes, more: bytes) -> Path:
    path = disk.root / "log"
    write_durably(disk, path, synced)
    disk.append(path).write(more)
    return path


@pytest.mark.parametrize("loss", Loss)
@pytest.mark.parametrize("seed", range(20))
def test_what_was_synced_survives_and_a_beginning_of_the_rest_may(loss: Loss, seed: int) -> None:
    disk = VirtualDisk(seed=seed)
    path = _written(disk, synced=b"safe", more=b"abcdef")
    disk.restart(loss)
    data = disk.read(path)
    assert data.startswith(b"safe")
    rest = data[4:]
    if loss is Loss.DROP:
        assert rest == b""
    elif loss is Loss.TORN:
        assert b"abcdef".startswith(rest)
    else:
        assert len(rest) == 6
        assert b"abcdef".startswith(rest.rstrip(b"\0"))


def test_each_kind_of_loss_really_happens() -> None:
    left = set()
    for seed in range(60):
        for loss in Loss:
            disk = VirtualDisk(seed=seed)
            path = _written(disk, synced=b"", more=b"ab")
            disk.restart(loss)
            left.add(disk.read(path))
    assert left == {b"", b"a", b"ab", b"\0\0", b"a\0"}


def test_a_name_is_lost_with_its_folder_unsynced() -> None:
    disk = VirtualDisk()
    file = disk.create(ROOT / "a")
    file.write(b"x")
    file.fsync()
    disk.restart(Loss.DROP)
    assert disk.names(ROOT) == []


def test_a_renamed_file_has_its_old_name_again() -> None:
    disk = VirtualDisk()
    write_durably(disk, ROOT / "a", b"old")
    write_durably(disk, ROOT / "b", b"new")
    disk.replace(ROOT / "b", ROOT / "a")
    assert disk.read(ROOT / "a") == b"new"
    disk.restart(Loss.DROP)
    assert (disk.read(ROOT / "a"), disk.read(ROOT / "b")) == (b"old", b"new")


def test_a_file_in_an_unsynced_folder_is_lost_with_it() -> None:
    disk = VirtualDisk()
    disk.make_folder(ROOT / "x")
    write_durably(disk, ROOT / "x" / "a", b"1")
    disk.restart(Loss.DROP)
    assert disk.names(ROOT) == []


def test_unsynced_names_may_survive_without_their_bytes() -> None:
    """The empty file after a crash that everyone has seen once."""
    found = set()
    for seed in range(30):
        disk = VirtualDisk(seed=seed)
        file = disk.create(ROOT / "a.new")
        file.write(b"x")
        disk.replace(ROOT / "a.new", ROOT / "a")
        disk.restart(Loss.TORN)
        found.add(tuple((name, disk.read(ROOT / name)) for name in disk.names(ROOT)))
    assert (("a", b""),) in found
    assert () in found


def test_a_killed_program_loses_nothing_but_its_handles_and_locks() -> None:
    disk = VirtualDisk()
    file = disk.create(ROOT / "a")
    file.write(b"x")
    lock = disk.lock(ROOT / "lock")
    assert lock is not None
    disk.kill()
    assert disk.read(ROOT / "a") == b"x"
    with pytest.raises(PowerCut):
        file.write(b"y")
    with pytest.raises(PowerCut):
        file.fsync()
    assert disk.lock(ROOT / "lock") is not None
    lock.release()  # the dead program's: it must not free the new one
    assert disk.lock(ROOT / "lock") is None


def test_after_a_failed_fsync_the_next_succeeds_without_the_bytes() -> None:
    disk = VirtualDisk()
    path = _written(disk, synced=b"", more=b"")
    file = disk.append(path)
    disk.trouble = {len(disk.calls) + 2: Trouble.FAILED}
    file.write(b"gone")
    with pytest.raises(OSError, match="Errno"):
        file.fsync()
    file.write(b"more")
    file.fsync()
    assert disk.read(path) == b"gonemore"
    disk.restart(Loss.TORN)
    assert disk.read(path) == b""


@pytest.mark.parametrize("trouble", [Trouble.FULL, Trouble.FAILED, Trouble.READ_ONLY])
def test_every_call_can_fail(trouble: Trouble) -> None:
    whole = VirtualDisk()
    write_durably(whole, ROOT / "a", b"abcd")
    for number in range(1, len(whole.calls) + 1):
        disk = VirtualDisk(trouble={number: trouble})
        with pytest.raises(OSError, match="Errno"):
            write_durably(disk, ROOT / "a", b"abcd")


def test_the_power_fails_in_the_call_it_was_told_and_stays_off() -> None:
    disk = VirtualDisk(crash_at=2)
    file = disk.create(ROOT / "a")
    with pytest.raises(PowerCut):
        file.write(b"abcd")
    left = disk.read(ROOT / "a")
    with pytest.raises(PowerCut):
        file.write(b"efgh")
    assert disk.read(ROOT / "a") == left
    assert len(disk.calls) == 2


def test_a_deaf_sync_does_nothing() -> None:
    disk = VirtualDisk(deaf=lambda call, path: call == "fsync")
    write_durably(disk, ROOT / "a", b"x")
    disk.restart(Loss.DROP)
    assert disk.read(ROOT / "a") == b""


@given(st.integers(0, 2**32), st.sampled_from(Loss), st.lists(st.binary(max_size=9), max_size=6))
def test_a_restart_is_final(seed: int, loss: Loss, writes: list[bytes]) -> None:
    disk = VirtualDisk(seed=seed)
    file = disk.create(ROOT / "a")
    for data in writes:
        file.write(data)
    disk.restart(loss)
    before = {name: disk.read(ROOT / name) for name in disk.names(ROOT)}
    disk.restart(Loss.DROP)
    assert {name: disk.read(ROOT / name) for name in disk.names(ROOT)} == before
