"""Every kind of entry has words, whatever is in it."""

from collections.abc import Callable
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchvoice.session import entries as e
from benchvoice.sheet.describe import describe
from tests.log.samples import of_model

KINDS = sorted(e.ENTRY_MODELS)


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_words(kind: str) -> None:
    @settings(max_examples=15)
    @given(of_model(e.ENTRY_MODELS[kind]))
    def any_entry(entry: e.Entry) -> None:
        assert isinstance(describe(entry), str)

    run: Callable[[], Any] = any_entry
    run()


def test_a_kind_without_words_is_not_passed_over() -> None:
    with pytest.raises(NotImplementedError, match="entries of the kind strange"):
        describe(e.Entry(kind="strange"))


@given(st.sampled_from(KINDS).flatmap(lambda kind: of_model(e.ENTRY_MODELS[kind])))
def test_no_entry_is_called_safe(entry: e.Entry) -> None:
    fields = entry.model_dump_json().lower()
    words = describe(entry).lower()
    assert [word for word in ("safe", "passed", "correct ") if word in words and word not in fields] == []


def test_a_verdict_says_how_far_out_and_what_was_asked() -> None:
    verdict = e.Verdict(
        step="main_clearance", place=("two",), reading=7, outcome="over", out_by=Decimal("0.5"), low=Decimal("1.5"),
        high=Decimal("3.0"), unit="thou", reason="past the wear limit too",
    )  # fmt: skip
    assert describe(verdict) == "Line 7, two: over by 0.5 thou: past the wear limit too; asked: 1.5 to 3.0 thou"


@pytest.mark.parametrize(
    ("lines", "words"),
    [((7,), "(line 7)"), ((7, 9), "(lines 7, 9)"), ((7, 8, 9, 10), "(lines 7 to 10)"), ((), "(no lines)")],
)
def test_lines_are_named_shortly(lines: tuple[int, ...], words: str) -> None:
    assert describe(e.Retracted(entries=lines, what="reading")) == f"Taken back: reading {words}"


def test_a_mark_is_compared_in_plain_words() -> None:
    mark = e.Mark(step="s", read="the stamp", value="20", said="two zero", expected="10", matches=False)
    assert describe(mark) == "the stamp: 20; asked: 10: not the same"
