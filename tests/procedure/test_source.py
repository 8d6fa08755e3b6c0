"""The text of a document becomes a tree of text, and what could do harm is refused with its line."""

import pytest

from benchvoice.procedure.faults import DocumentFaults
from benchvoice.procedure.source import DEEPEST, LARGEST, read_tree


def refused(data: bytes) -> list[str]:
    with pytest.raises(DocumentFaults) as caught:
        read_tree(data, "f.yaml")
    return [str(fault) for fault in caught.value.faults]


def test_every_scalar_stays_the_text_that_was_written() -> None:
    tree, _ = read_tree(b"a: on\nb: 12:30\nc: 010\nd: 9.540\ne: 1e3\nf: 2027-03-01\ng: yes\nh: 'null'\n", "f.yaml")
    assert tree == {
        "a": "on", "b": "12:30", "c": "010", "d": "9.540", "e": "1e3", "f": "2027-03-01", "g": "yes", "h": "null",
    }  # fmt: skip


@pytest.mark.parametrize("nothing", ["null", "~", "Null", "NULL", ""])
def test_nothing_is_none(nothing: str) -> None:
    assert read_tree(f"a: [1.5, {nothing or 'null'}]\nb: {nothing}\n".encode(), "f.yaml")[0] == {
        "a": ["1.5", None],
        "b": None,
    }


def test_every_path_has_its_line() -> None:
    _, source = read_tree(
        b"title: x\nsteps:\n  - step: a\n    tell: |\n      Go.\n  - step: b\n    list: [1,\n      2]\n", "f"
    )
    assert source.line(("title",)) == 1
    assert source.line(("steps", 0)) == 3
    assert source.line(("steps", 0, "tell")) == 4
    assert source.line(("steps", 1, "list", 1)) == 8
    assert source.line(("steps", 1, "list", 1, "deeper")) == 8
    assert source.line(("nowhere",)) == 1


def test_a_path_names_steps_and_numbers_items_from_one() -> None:
    _, source = read_tree(b"steps:\n  - step: caps\n    stages: [x, y]\n", "f")
    assert source.words(("steps", 0, "stages", 1)) == "steps.caps.stages[2]"
    assert source.words(()) == "document"


def test_a_byte_order_mark_and_carriage_returns_are_taken() -> None:
    assert read_tree(b"\xef\xbb\xbftitle: x\r\nwork: y\r\n", "f")[0] == {"title": "x", "work": "y"}


def test_empty_is_none() -> None:
    assert read_tree(b"", "f")[0] is None
    assert read_tree(b"# nothing\n", "f")[0] is None


def test_tabs_as_indentation() -> None:
    assert refused(b"schema: 1\n\ttitle: x\nsteps:\n  \t- a\n") == [
        "f.yaml:2: document: a tab as indentation; indent with spaces",
        "f.yaml:4: document: a tab as indentation; indent with spaces",
    ]


def test_not_utf_8() -> None:
    assert refused("schema: 1\ntitle: caf\xe9\n".encode("latin-1")) == [
        "f.yaml:2: document: this is not UTF-8; save the file as UTF-8"
    ]


def test_control_characters() -> None:
    assert refused(b"schema: 1\ntitle: a\x00b\x07\n")[0] == (
        "f.yaml:2: document: a control character; take it out, a document is plain text"
    )


def test_too_large() -> None:
    assert refused(b"a: " + b"x" * LARGEST) == [
        "f.yaml:1: document: the file is larger than 1024 KiB; write one procedure to a file"
    ]


def test_the_largest_is_read() -> None:
    data = b"a: " + b"x" * (LARGEST - 3)
    assert read_tree(data, "f")[0] == {"a": "x" * (LARGEST - 3)}


@pytest.mark.parametrize("deep", [b"- " * 20_000, b"a: " + b"[" * 500 + b"]" * 500])
def test_depth_without_end(deep: bytes) -> None:
    (fault,) = refused(deep)
    assert fault.endswith(f"nested more than {DEEPEST} deep; write it flat")


def test_far_deeper_than_the_parser_goes() -> None:
    (fault,) = refused(b"a: " + b"[" * 20_000)
    assert fault.startswith("f.yaml:1: ")


def test_aliases_are_refused_before_they_grow() -> None:
    bomb = b"a: &a [x,x,x,x,x,x,x,x,x]\n" + b"".join(
        f"{new}: &{new} [{','.join([f'*{old}'] * 9)}]\n".encode()
        for old, new in zip("abcdefgh", "bcdefghi", strict=True)
    )
    faults = refused(bomb)
    assert len(faults) == 72
    assert faults[0] == "f.yaml:2: b: an alias, *a; write the text out again"


def test_an_anchor_alone_does_no_harm() -> None:
    assert read_tree(b"a: &x 1\n", "f")[0] == {"a": "1"}


def test_a_key_that_comes_twice_keeps_the_rest_readable() -> None:
    assert refused(b"a: {x: 1, x: {y: [1, 2]}, z: 3}\nb: 1\nb: 2\n") == [
        "f.yaml:1: a.x: x comes twice, first on line 1; keep one of them",
        "f.yaml:3: b: b comes twice, first on line 2; keep one of them",
    ]
