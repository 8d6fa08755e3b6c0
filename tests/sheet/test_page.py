"""One file that needs nothing else, whatever people said into it."""

import re
from decimal import Decimal
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from benchvoice.errors import BenchvoiceError, InputError, MachineError
from benchvoice.log import drop_clip
from benchvoice.procedure.models import Procedure
from benchvoice.session import entries as e
from benchvoice.session.facts import Instant, fold
from benchvoice.sheet import write_record
from benchvoice.sheet.gather import Source, gather
from benchvoice.sheet.page import render
from tests.log.samples import of_model
from tests.sheet.builds import HOSTILE, START, Script, a_build, begin, facts, procedure, write_build


class Page(HTMLParser):
    """Tags with their attributes, and the text; void tags closed, every other one properly nested."""

    VOID = ("meta", "br", "link", "img")

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text = ""
        self.open: list[str] = []
        self.feed(text)
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text += data

    def all(self, tag: str) -> list[dict[str, str | None]]:
        return [attributes for name, attributes in self.tags if name == tag]


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("builds") / "gannet"
    write_build(folder)
    return folder


@pytest.fixture(scope="module")
def page(built: Path) -> Page:
    return Page(write_record(built).read_text(encoding="utf-8"))


def test_it_is_named_record_and_lies_in_the_folder(built: Path) -> None:
    assert write_record(built) == built / "record.html"
    assert [path.name for path in built.iterdir() if path.name.startswith("tmp")] == []


def test_nothing_is_fetched_from_anywhere(built: Path, page: Page) -> None:
    text = write_record(built).read_text(encoding="utf-8")
    assert "http:" not in text
    assert "https:" not in text
    assert "url(" not in text
    assert "@import" not in text
    for _, attributes in page.tags:
        for name in ("src", "href", "action", "data", "poster", "srcset"):
            assert re.match(r"data:audio/flac;base64,|#", attributes.get(name) or "#")
    assert not page.all("script")
    assert not page.all("link")
    assert not any(name.startswith("on") for _, attributes in page.tags for name in attributes)


def test_hostile_text_is_text(page: Page) -> None:
    assert not page.all("script")
    assert HOSTILE in page.text


def test_sounds_play_from_inside_and_every_link_leads_somewhere(page: Page) -> None:
    players = page.all("audio")
    assert players
    assert all((each.get("src") or "").startswith("data:audio/flac;base64,Zkx") for each in players)  # fLaC
    ids = [attributes["id"] for _, attributes in page.tags if "id" in attributes]
    assert len(ids) == len(set(ids))
    assert {(each["href"] or "").removeprefix("#") for each in page.all("a")} <= set(ids)


def test_a_sound_that_was_dropped_is_said_to_be_gone(tmp_path: Path) -> None:
    clip = write_build(tmp_path / "build")
    drop_clip(tmp_path / "build", clip.file)
    page = Page(write_record(tmp_path / "build").read_text(encoding="utf-8"))
    assert not page.all("audio")
    assert "(the sound was dropped, or is not in the folder)" in page.text


def test_it_says_who_comes_first_and_never_that_a_thing_is_safe(page: Page) -> None:
    assert "The maker’s manual, local codes and a licensed or competent person come first." in page.text.replace(
        "\n", " "
    )
    assert re.search(r"\b(safe|passed|approved|OK)\b", page.text, re.IGNORECASE) is None


def test_it_prints_and_ends_with_the_head(built: Path, page: Page) -> None:
    text = (built / "record.html").read_text(encoding="utf-8")
    assert "@media print" in text
    assert re.search(r"<code>[0-9a-f]{64}</code>", text)
    assert "benchvoice verify" in page.text


def test_void_entries_are_struck_through_with_the_reason(page: Page) -> None:
    struck = [attributes for tag, attributes in page.tags if tag == "tr" and attributes.get("class") == "void"]
    assert struck
    assert "[measured again: strip was creased (line 33)]" in page.text


def test_a_folder_without_a_build(tmp_path: Path) -> None:
    with pytest.raises(MachineError, match="There is no build"):
        write_record(tmp_path)


def test_a_build_that_has_not_begun(tmp_path: Path) -> None:
    write_build(tmp_path / "build", Script())
    with pytest.raises(InputError, match="has not begun"):
        write_record(tmp_path / "build")


def test_a_lost_procedure_is_a_sentence(tmp_path: Path) -> None:
    write_build(tmp_path / "build", begin())
    (tmp_path / "build" / "procedure.yaml").unlink()
    with pytest.raises(BenchvoiceError, match=r"procedure\.yaml"):
        write_record(tmp_path / "build")


def test_the_amended_procedure_is_the_one_shown(tmp_path: Path) -> None:
    script = begin()
    script.add(e.Amended(procedure="procedure-2.yaml", procedure_sha256="0", reason="new figures", difference="title"))
    folder = tmp_path / "build"
    write_build(folder, script)
    text = (folder / "procedure.yaml").read_text(encoding="utf-8")
    (folder / "procedure-2.yaml").write_text(text.replace("title: Launch diesel, bottom end", "title: Second version"))
    assert "<h1>Second version</h1>" in write_record(folder).read_text(encoding="utf-8")


DOCUMENT: Procedure = procedure()
STEPS = [step.step for step in DOCUMENT.steps]


@pytest.mark.parametrize("kind", sorted(e.ENTRY_MODELS))
def test_a_page_can_be_made_whatever_the_log_holds(kind: str) -> None:
    """Any entry of any kind, after a real build: made void or not, with the names of real steps or of none."""

    @settings(max_examples=2, deadline=None, suppress_health_check=list(HealthCheck))
    @given(entry=of_model(e.ENTRY_MODELS[kind]), step=st.sampled_from(STEPS))
    def any_entry(entry: Any, step: str) -> None:
        named = entry.model_copy(update={"step": step}) if "step" in type(entry).model_fields else entry
        now = Instant(START, Decimal(0), "boot-1")
        rows = [*begin().entries, (entry, now), (named, now)]
        sheet = gather(DOCUMENT, fold(rows), Source(len(rows), "0" * 64))
        Page(render(sheet, lambda _: ""))

    any_entry()


def test_the_page_of_a_whole_build_is_well_formed() -> None:
    sheet = gather(procedure(), facts(a_build("clips/000001.flac")), Source(1, "0" * 64))
    assert Page(render(sheet, lambda _: "data:audio/flac;base64,Zkx")).text
