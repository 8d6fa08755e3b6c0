"""Every conversation file runs as it is written."""

from pathlib import Path

import pytest

from tests.session.conversation_files import run

FILES = sorted((Path(__file__).parents[1] / "conversations").glob("*.txt"))


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_conversation(file: Path) -> None:
    """What must be said is said, and what must be written is written."""
    run(file)
