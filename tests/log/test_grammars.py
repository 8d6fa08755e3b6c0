from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.errors import MachineError
from benchvoice.log.grammars import keep_grammar, read_grammar
from benchvoice.testing.disk import Trouble, VirtualDisk

ROOT = Path("bench")


@given(st.lists(st.text(st.characters(codec="utf-8"))))
def test_any_grammar_comes_back(phrases: list[str]) -> None:
    disk = VirtualDisk(ROOT)
    assert read_grammar(ROOT, keep_grammar(ROOT, phrases, disk), disk) == phrases


def test_the_same_grammar_is_kept_once() -> None:
    disk = VirtualDisk(ROOT)
    assert keep_grammar(ROOT, ["yes", "no"], disk) == keep_grammar(ROOT, ("yes", "no"), disk)
    assert len(disk.names(ROOT / "grammars")) == 1
    keep_grammar(ROOT, ["no", "yes"], disk)
    assert len(disk.names(ROOT / "grammars")) == 2


def test_a_changed_grammar_is_refused() -> None:
    disk = VirtualDisk(ROOT)
    file = keep_grammar(ROOT, ["yes", "no"], disk)
    disk.create(ROOT / file).write(b'["yes"]')
    with pytest.raises(MachineError, match="was changed after it was kept"):
        read_grammar(ROOT, file, disk)


@pytest.mark.parametrize("file", ["../secret.json", "grammars/x.json", "", "grammars/" + "0" * 64 + ".json\n"])
def test_only_grammars_are_read_as_grammars(file: str) -> None:
    with pytest.raises(MachineError, match="no grammar of the build"):
        read_grammar(ROOT, file, VirtualDisk(ROOT))


def test_one_that_is_not_there_is_one_sentence() -> None:
    with pytest.raises(MachineError, match=r"^Can't read the grammar .*: it isn't there"):
        read_grammar(ROOT, "grammars/" + "0" * 64 + ".json", VirtualDisk(ROOT))


def test_a_full_disk_is_one_sentence() -> None:
    with pytest.raises(MachineError, match=r"^Can't keep the grammar in .*: the disk is full"):
        keep_grammar(ROOT, ["yes"], VirtualDisk(ROOT, trouble={1: Trouble.FULL}))
