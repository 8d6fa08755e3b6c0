"""The guide for writers shows whole procedures: each loads without a remark, and every kind is named."""

import re
from pathlib import Path

import pytest

from benchvoice.procedure.load import load_document
from benchvoice.procedure.models import KINDS

GUIDE = Path(__file__).parents[2] / "procedures" / "README.md"
EXAMPLES = re.findall(r"```yaml\n(.*?)```", GUIDE.read_text(encoding="utf-8"), re.DOTALL)


@pytest.mark.parametrize("text", EXAMPLES, ids=lambda text: text.split("title: ")[1].splitlines()[0])
def test_an_example_loads_without_a_remark(text: str, tmp_path: Path) -> None:
    path = tmp_path / "example.yaml"
    path.write_text(text, encoding="utf-8")
    assert [str(each) for each in load_document(path).advice] == []


def test_the_guide_names_every_kind() -> None:
    assert len(EXAMPLES) >= 6
    assert [kind for kind in KINDS if f"`{kind}`" not in GUIDE.read_text(encoding="utf-8")] == []
