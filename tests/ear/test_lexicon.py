from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.ear.lexicon import merged, parse, read, unparse

SOUND = st.sampled_from(["AA", "B", "CH", "IY", "NG", "ZH"])
LEXICONS = st.dictionaries(
    st.text("abcdefg'", min_size=1, max_size=6),
    st.lists(st.lists(SOUND, min_size=1, max_size=5).map(tuple), min_size=1, max_size=3, unique=True).map(tuple),
    max_size=8,
)


def test_several_lines_are_several_pronunciations_once_each() -> None:
    assert parse("half HH AE F\n; a comment\n\nhalf HH AA F\nhalf HH AE F\n") == {
        "half": (("HH", "AE", "F"), ("HH", "AA", "F"))
    }


def test_a_word_without_sounds_is_left_out() -> None:
    assert parse("silent\nzero Z IH R OW\n") == {"zero": (("Z", "IH", "R", "OW"),)}


@given(LEXICONS)
def test_what_is_written_reads_back(lexicon: dict[str, tuple[tuple[str, ...], ...]]) -> None:
    assert parse(unparse(lexicon)) == lexicon


@given(LEXICONS, LEXICONS)
def test_merging_keeps_everything_and_the_first_first(
    one: dict[str, tuple[tuple[str, ...], ...]], other: dict[str, tuple[tuple[str, ...], ...]]
) -> None:
    both = merged(one, other)
    assert both.keys() == one.keys() | other.keys()
    for word, pronunciations in both.items():
        mine = one.get(word, ())
        assert pronunciations[: len(mine)] == mine
        assert set(pronunciations) == {*mine, *other.get(word, ())}


def test_a_missing_file_is_said(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        read(tmp_path / "none.txt")
