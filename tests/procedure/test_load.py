"""Loading files: every fault at once, in one sentence where the file itself can't be had."""

import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchvoice.errors import InputError
from benchvoice.procedure.faults import DocumentFaults, Fault
from benchvoice.procedure.load import load, load_document, load_text, read_document

SHIPPED = sorted((Path(__file__).parents[2] / "procedures").glob("*.yaml"))
SMALL = "schema: 1\ntitle: Bracket\nwork: metric\nsteps:\n  - {step: a, tell: Go.}\n"


def test_a_small_document() -> None:
    procedure = load_text(SMALL, "small")
    assert procedure.title == "Bracket"
    assert procedure.steps[0].tell == "Go."
    assert procedure.steps[0].kind == "tell"


def test_a_file_is_called_by_its_path(tmp_path: Path) -> None:
    file = tmp_path / "bad.yaml"
    file.write_text("schema: 1\n", encoding="utf-8")
    with pytest.raises(DocumentFaults) as caught:
        load(file)
    assert {fault.file for fault in caught.value.faults} == {str(file)}


def test_a_missing_file_is_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        load(tmp_path / "absent.yaml")
    assert str(caught.value) == (
        f"{tmp_path / 'absent.yaml'}: no such file or directory; give the path of a procedure, a YAML file"
    )


def test_a_folder_is_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(InputError):
        load(tmp_path)


def test_a_huge_file_is_not_read_to_its_end(tmp_path: Path) -> None:
    file = tmp_path / "huge.yaml"
    with file.open("wb") as stream:
        stream.truncate(10_000_000_000)
    with pytest.raises(DocumentFaults, match="larger than 1024 KiB"):
        load(file)


def test_sound_parts_are_checked_beside_broken_ones() -> None:
    text = SMALL + "  - {step: b, tel: Go.}\n  - {step: c, after: [b, d], tell: Go.}\n"
    with pytest.raises(DocumentFaults) as caught:
        load_text(text, "f")
    assert [str(fault) for fault in caught.value.faults] == [
        "f:6: steps.b.tel: there is no tel here; did you mean tell?",
        "f:7: steps.c.after: there is no step d; write one of a, b, c",
    ]


def test_nothing_is_said_of_what_names_a_broken_part() -> None:
    text = (
        "schema: 1\ntitle: x\nwork: metric\n"
        "groups:\n  lid: {what: lid bolts, positions: []}\n"
        "particulars:\n  size: {ask: Which?}\n"
        "steps:\n"
        "  - {step: size, choose: {ask: size}}\n"
        "  - {step: lid, when: {size: big}, tighten: {group: lid, stages: [{torque: 9 N_m}]}}\n"
    )
    with pytest.raises(DocumentFaults) as caught:
        load_text(text, "f")
    assert [fault.path for fault in caught.value.faults] == ["groups.lid.positions", "particulars.size"]


def _mutated(lines: list[str], edits: list[tuple[int, int, int, str]]) -> str:
    """A document's lines after edits: taken out, written twice, swapped, or cut into."""
    lines = list(lines)
    for kind, at, other, text in edits:
        at, other = at % len(lines), other % len(lines)
        if kind == 0 and len(lines) > 1:
            del lines[at]
        elif kind == 1:
            lines.insert(other, lines[at])
        elif kind == 2:
            lines[at], lines[other] = lines[other], lines[at]
        else:
            spot = other % (len(lines[at]) + 1)
            lines[at] = lines[at][:spot] + text + lines[at][spot + len(text) :]
    return "\n".join(lines)


SIGNS = ("[", "]", "{", "}", ":", ",", "'", '"', "- ", "&a", "*a", "!x", "null", "-1", "0", "1e9", "#")
EDITS = st.lists(
    st.tuples(
        st.integers(0, 3),
        st.integers(0, 2000),
        st.integers(0, 2000),
        st.one_of(st.sampled_from(SIGNS), st.text(max_size=6)),
    ),
    min_size=1,
    max_size=5,
)


def _faults(data: bytes) -> tuple[Fault, ...]:
    try:
        read_document(data, "f.yaml")
    except DocumentFaults as caught:
        return caught.faults or (Fault("", 0, "", "faults without a fault", ""),)
    return ()


def _only_faults(data: bytes) -> None:
    """Whatever is wrong is told as faults: each one line, with file, line and remedy."""
    for fault in _faults(data):
        assert str(fault).startswith(f"f.yaml:{fault.line}: ")
        assert fault.line >= 1
        assert fault.what
        assert fault.remedy
        assert "\n" not in str(fault)


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
@given(edits=EDITS)
@settings(max_examples=120, deadline=None)
def test_a_mutated_document_raises_nothing_but_its_faults(path: Path, edits: list[tuple[int, int, int, str]]) -> None:
    lines = path.read_text(encoding="utf-8").splitlines()
    _only_faults(_mutated(lines, edits).encode("utf-8", "surrogatepass"))


@given(data=st.binary(max_size=400))
@settings(max_examples=300, deadline=None)
def test_bytes_of_any_kind_raise_nothing_but_their_faults(data: bytes) -> None:
    _only_faults(data)


WORDS = ("yes", "a", "25 N_m")
NAMES = ("step", "tell", "measure", "what", "unit", "limits", "by", "places", "tighten", "group", "stages", "ask")
SCALARS = st.one_of(st.none(), st.booleans(), st.integers(), st.text(max_size=8), st.sampled_from(WORDS))
TREES = st.recursive(
    SCALARS,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3),
        st.dictionaries(st.sampled_from(NAMES), inner, max_size=4),
    ),
    max_leaves=12,
)
SECTIONS = st.dictionaries(st.sampled_from(["groups", "words", "options"]), TREES)


@given(steps=st.lists(TREES, min_size=1, max_size=3), extra=SECTIONS)
@settings(max_examples=200, deadline=None)
def test_trees_of_any_shape_raise_nothing_but_their_faults(steps: list[object], extra: dict[str, object]) -> None:
    tree = {"schema": 1, "title": "x", "work": "metric", "steps": steps, **extra}
    _only_faults(json.dumps(tree).encode())


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_a_document_keeps_its_source(path: Path) -> None:
    document = load_document(path)
    first = document.procedure.steps[0].step
    line = document.source.line(("steps", 0))
    assert path.read_text(encoding="utf-8").splitlines()[line - 1].strip() == f"- step: {first}"
    assert document.advice == ()
