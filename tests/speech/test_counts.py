"""Counts on their own."""

from benchvoice.speech.counts import whole_number


def test_whole_numbers():
    assert [whole_number(text) for text in ("ten", "2", "a hundred and five", "two five", "1.5", "ten thou", "")] == [
        10, 2, 105, None, None, None, None,
    ]  # fmt: skip
