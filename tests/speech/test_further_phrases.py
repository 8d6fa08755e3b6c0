"""Our own table of phrases, of the same kinds as the published list."""

import pytest

from tests.speech.further_phrases import PHRASES
from tests.speech.steps import heard, is_value

ROWS = [
    tuple(cell.strip() for cell in line.split("|")) for line in PHRASES.strip().splitlines() if not line.startswith("#")
]


def test_the_table_is_long_and_has_every_action():
    assert len(ROWS) > 200
    assert {row[3] for row in ROWS} == {"take", "read back", "ask again", "bound", "not a value"}
    assert len({row[:3] for row in ROWS}) == len(ROWS)


@pytest.mark.parametrize(("phrase", "work", "step", "action", "value"), ROWS, ids=lambda cell: cell)
def test_phrase(phrase, work, step, action, value):
    reading = heard(phrase, step, work)
    assert str(reading.action) == action, reading
    if value:
        assert is_value(reading, value), reading
    else:
        assert reading.value is None
