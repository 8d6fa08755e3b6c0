import json
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchvoice.errors import MachineError
from benchvoice.log.append import LogWriter
from benchvoice.log.line import FIRST_PREV, Stamped, canonical, decode, digest
from benchvoice.log.read import LogDamaged, read_log, scan
from benchvoice.testing.disk import VirtualDisk

from .samples import STAMPED, finding, turn

ROOT = Path("bench")
LOG = ROOT / "log.jsonl"


def written(*turns: list[Stamped]) -> bytes:
    disk = VirtualDisk(ROOT)
    writer = LogWriter(disk.append(LOG), LOG, written=0, head=FIRST_PREV)
    for entries in turns:
        writer.append(entries)
    return disk.read(LOG)


def found(data: bytes) -> VirtualDisk:
    """A disk with a log as it was found."""
    disk = VirtualDisk(ROOT)
    disk.append(LOG).write(data)
    return disk


EVENING = written(turn(0), [finding(1)], turn(2))
LINES = EVENING.splitlines()


@given(st.lists(st.lists(STAMPED, max_size=4), max_size=4))
def test_whatever_was_written_reads_back(turns: list[list[Stamped]]) -> None:
    data = written(*turns)
    contents, fault = scan(data)
    assert fault is None
    assert contents.torn is None
    assert [line.stamped for line in contents.lines] == [one for entries in turns for one in entries]
    assert [line.n for line in contents.lines] == list(range(1, len(contents.lines) + 1))
    assert b"".join(line.raw + b"\n" for line in contents.lines) == data


def test_the_chain_as_other_programs_can_check_it() -> None:
    assert decode(LINES[0]).prev == "0" * 64
    for before, line in pairwise(LINES):
        assert decode(line).prev == digest(before)
    assert scan(EVENING)[0].head == digest(LINES[-1])
    assert scan(b"")[0].head == FIRST_PREV


def test_cut_anywhere_the_whole_lines_survive() -> None:
    for cut in range(len(EVENING) + 1):
        contents, fault = scan(EVENING[:cut])
        whole = EVENING[:cut].count(b"\n")
        assert fault is None
        assert [line.raw for line in contents.lines] == LINES[:whole]
        assert (contents.torn or b"") == EVENING[:cut].split(b"\n")[-1]


@pytest.mark.parametrize("tail", [b"\0", b"\0" * 5000, LINES[0][:7], LINES[0][:7] + b"\0" * 90, b"{", LINES[0]])
def test_what_an_unfinished_write_leaves_is_no_damage(tail: bytes) -> None:
    contents = read_log(ROOT, found(EVENING + tail))
    assert (len(contents.lines), contents.torn) == (len(LINES), tail)


@settings(max_examples=400)
@given(st.integers(0, len(EVENING) - 1), st.integers(1, 255))
def test_any_changed_byte_is_found_in_its_line_or_the_next(where: int, change: int) -> None:
    data = bytearray(EVENING)
    data[where] ^= change
    contents, fault = scan(bytes(data))
    number = EVENING[:where].count(b"\n") + 1
    if fault is not None:
        assert fault.line in (number, number + 1)
        # Where two lines follow, the second says which of the first two was changed.
        assert fault.line == number or number == len(LINES) - 1
    elif contents.torn is not None:
        assert where == len(EVENING) - 1, "the last newline: its line looks like an unfinished one"
    else:
        assert number == len(LINES), "only the last line's figures have nobody to vouch for them"
        assert contents.head != digest(LINES[-1]), "but whoever noted the head knows"


def _without(number: int) -> bytes:
    return b"".join(line + b"\n" for n, line in enumerate(LINES, start=1) if n != number)


@pytest.mark.parametrize(
    ("data", "line", "what"),
    [
        (_without(1), 1, "missing or out of its place: .*n = 2"),
        (_without(4), 4, "missing or out of its place: .*n = 5"),
        (EVENING.replace(LINES[2] + b"\n", LINES[2] + b"\n\n"), 4, "no JSON"),
        (EVENING.replace(LINES[2] + b"\n", LINES[2] + b"\n" + LINES[2] + b"\n"), 4, "out of its place"),
        (EVENING.replace(b"thou", b"mm", 1), 1, "was changed after it was written"),
        (EVENING.replace(b'"elapsed":"1"', b'"elapsed":"9"'), 4, "was changed after it was written"),
        (EVENING + EVENING, 8, "out of its place: .*n = 1"),
        (EVENING + b"\0\0\n", 8, "no JSON"),
        (EVENING.replace(b"\n", b"\r\n"), 1, "not written as the log writes it"),
        (b"\xef\xbb\xbf" + EVENING, 1, "not written as the log writes it"),
        (written([finding(0)]).replace(b"0" * 64, b"1" * 64), 1, "not the first that was written"),
    ],
)
def test_damage_is_refused_by_its_line(data: bytes, line: int, what: str) -> None:
    disk = found(data)
    sentence = rf"^bench.log\.jsonl: line {line} .*{what}.*; nothing was changed: "
    with pytest.raises(LogDamaged, match=sentence) as damaged:
        read_log(ROOT, disk)
    assert damaged.value.fault.line == line
    assert disk.read(LOG) == data


def test_between_two_lines_without_a_witness_it_says_so() -> None:
    lines = [*LINES[:-2], LINES[-2].replace(b"thou", b"mm"), LINES[-1]]
    fault = scan(b"".join(line + b"\n" for line in lines))[1]
    assert fault is not None
    assert str(fault) == "line 7 doesn't follow from the line before it: one of the two was changed"


def test_a_whole_log_written_anew_by_a_forger_is_seen_only_by_its_head() -> None:
    forged = written(turn(0), [finding(1)], turn(3))
    contents, fault = scan(forged)
    assert fault is None
    assert contents.head != scan(EVENING)[0].head


def test_no_log_is_one_sentence() -> None:
    with pytest.raises(MachineError, match=r"^There is no build in bench: it holds no log.jsonl; check the name"):
        read_log(ROOT, VirtualDisk(ROOT))


def test_a_log_that_is_a_folder_is_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "log.jsonl").mkdir()
    with pytest.raises(MachineError, match=r"^Can't read .*log\.jsonl: "):
        read_log(tmp_path)


@given(st.binary(max_size=300))
def test_any_file_is_read_or_refused(data: bytes) -> None:
    contents, fault = scan(data)
    assert not contents.lines
    assert (fault is None) == (b"\n" not in data)


def test_lines_that_a_newer_program_wrote_are_named() -> None:
    newer = canonical({**json.loads(LINES[0]), "kind": "telepathy"})
    with pytest.raises(LogDamaged, match=r"line 1 is of a kind that this program doesn't know .'telepathy'"):
        read_log(ROOT, found(newer + b"\n"))
