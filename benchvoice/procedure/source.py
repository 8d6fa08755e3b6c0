"""The text of a document → a tree of plain values, with the line that each was written on.

YAML is read as events and built here, without its implicit types: every scalar stays the text that was written
(on, 12:30, 010 and 9.540 are text; an unquoted null, ~ or nothing is None). What a document has no use for and could
do harm with is refused: aliases, tags, keys that come twice, tabs as indentation, depth without end, more than one
document, a file of more than 1 MiB.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

import yaml

from benchvoice.procedure.faults import DocumentFaults, Fault
from benchvoice.procedure.fields import shorten

LARGEST = 1024 * 1024
DEEPEST = 30

Tree = None | str | list[Any] | dict[str, Any]
Path = tuple[str | int, ...]

_LOADER: type = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_NULLS = frozenset({"", "~", "null", "Null", "NULL"})
_UNWANTED = (
    (re.compile(r"^ *\t", re.MULTILINE), "a tab as indentation", "indent with spaces"),
    (
        re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]"),
        "a control character",
        "take it out, a document is plain text",
    ),
)
_WHOLE = "document"


@dataclass(frozen=True, slots=True)
class Source:
    """Where things stand in a file: the line of each path."""

    file: str
    lines: Mapping[Path, int] = field(default_factory=dict)
    names: Mapping[Path, str] = field(default_factory=dict)
    """Steps' names, by path."""

    def line(self, path: Path) -> int:
        """The line of a path, or of the nearest thing above it that was written."""
        while path and path not in self.lines:
            path = path[:-1]
        return self.lines.get(path, 1)

    def fault(self, path: Path, what: str, remedy: str) -> Fault:
        """A fault at a path."""
        return Fault(self.file, self.line(path), self.words(path), what, remedy)

    def words(self, path: Path) -> str:
        """A path in words: steps.main_caps.tighten.stages[2]; a step by its name, other items by number from 1."""
        words = ""
        for at, part in enumerate(path, 1):
            name = self.names.get(path[:at], part)
            words += f"[{name + 1}]" if isinstance(name, int) else f".{name}"
        return words.removeprefix(".") or _WHOLE


def read_tree(data: bytes, file: str) -> tuple[Tree, Source]:
    """The tree of a document's bytes; DocumentFaults when it is not text, not YAML, or not the YAML that is meant."""
    text = _decoded(data, file)
    builder = _Builder(file)
    try:
        for event in yaml.parse(text, Loader=_LOADER):
            builder.take(event)
    except yaml.MarkedYAMLError as problem:
        builder.fault(_line(problem.problem_mark or problem.context_mark), *_syntax(problem))
    if builder.faults:
        raise DocumentFaults(builder.faults)
    return builder.root, Source(file, builder.lines, dict(_step_names(builder.root)))


def _decoded(data: bytes, file: str) -> str:
    if len(data) > LARGEST:
        what = f"the file is larger than {LARGEST // 1024} KiB"
        raise DocumentFaults([Fault(file, 1, _WHOLE, what, "write one procedure to a file")])
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        line = data.count(b"\n", 0, problem.start) + 1
        raise DocumentFaults([Fault(file, line, _WHOLE, "this is not UTF-8", "save the file as UTF-8")]) from None
    faults = [
        Fault(file, text.count("\n", 0, found.start()) + 1, _WHOLE, what, remedy)
        for pattern, what, remedy in _UNWANTED
        for found in pattern.finditer(text)
    ]
    if faults:
        raise DocumentFaults(faults)
    return text


def _line(mark: Any) -> int:
    return int(mark.line) + 1 if mark is not None else 1


def _syntax(problem: yaml.MarkedYAMLError) -> tuple[str, str]:
    """What YAML says of text that it can't read, and the likely remedy."""
    what = " ".join(filter(None, (problem.context, problem.problem))) or "this is not YAML"
    return f"not YAML: {what}", "look at the brackets, quotes, colons and indentation here and just above"


def _step_names(root: Tree) -> Iterator[tuple[Path, str]]:
    steps = root.get("steps") if isinstance(root, dict) else None
    for at, step in enumerate(steps if isinstance(steps, list) else ()):
        name = step.get("step") if isinstance(step, dict) else None
        if isinstance(name, str) and name:
            yield ("steps", at), shorten(name)


@dataclass(slots=True)
class _Open:
    """A list or mapping that is being read, and the key whose value comes next."""

    value: list[Any] | dict[str, Any]
    path: Path
    key: str | None = None
    skipped: bool = False
    """The coming value belongs to a key that came before: it is read and dropped."""


class _Builder:
    """Builds the tree from YAML's events, one after another; keeps on after a fault so that all are found."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.root: Tree = None
        self.lines: dict[Path, int] = {}
        self.faults: list[Fault] = []
        self._open: list[_Open] = []
        self._documents = 0

    def fault(self, line: int, what: str, remedy: str, path: Path | None = None) -> None:
        """Note a fault; without a path it lies where the builder stands."""
        where = path if path is not None else (self._open[-1].path if self._open else ())
        words = Source(self.file, names=dict(_step_names(self.root))).words(where)
        self.faults.append(Fault(self.file, line, words, what, remedy))

    def take(self, event: yaml.Event) -> None:
        """One event."""
        line = _line(event.start_mark)
        if isinstance(event, yaml.DocumentStartEvent):
            self._documents += 1
            if self._documents == 2:
                self.fault(line, "a second document", "write one procedure to a file", ())
        elif isinstance(event, yaml.AliasEvent):
            self.fault(line, f"an alias, *{event.anchor}", "write the text out again")
            self._place(None, line, is_scalar=True)
        elif isinstance(event, yaml.NodeEvent):
            self._take_node(event, line)
        elif isinstance(event, yaml.CollectionEndEvent):
            self._open.pop()

    def _take_node(self, event: yaml.NodeEvent, line: int) -> None:
        tag = getattr(event, "tag", None)
        if tag is not None and tag != "!":
            self.fault(line, f"a tag, {shorten(tag)}", "take it out; every value is plain text")
        if isinstance(event, yaml.ScalarEvent):
            plain = event.style is None or event.style == ""
            self._place(None if plain and event.value in _NULLS else event.value, line, is_scalar=True)
            return
        value: list[Any] | dict[str, Any] = [] if isinstance(event, yaml.SequenceStartEvent) else {}
        path = self._place(value, line, is_scalar=False)
        if len(self._open) >= DEEPEST:
            self.fault(line, f"nested more than {DEEPEST} deep", "write it flat", path[:2])
            raise DocumentFaults(self.faults)
        self._open.append(_Open(value, path))

    def _place(self, value: Tree, line: int, *, is_scalar: bool) -> Path:
        """Put a value where it belongs; a mapping's first scalar is a key. Returns the value's path."""
        if not self._open:
            if self._documents == 1:
                self.root = value
            return ()
        top = self._open[-1]
        if isinstance(top.value, list):
            path = (*top.path, len(top.value))
            top.value.append(value)
            self.lines[path] = line
            return path
        if top.key is None:
            return self._take_key(top, value if is_scalar else None, line, is_scalar)
        path = (*top.path, top.key)
        if not top.skipped:
            top.value[top.key] = value
        top.key, top.skipped = None, False
        return path

    def _take_key(self, top: _Open, value: Tree, line: int, is_scalar: bool) -> Path:
        if not is_scalar:
            self.fault(line, "a list or table as a name", "write a plain name before the colon")
            raise DocumentFaults(self.faults)
        assert isinstance(top.value, dict)
        top.key = value if isinstance(value, str) else "null"
        path = (*top.path, top.key)
        top.skipped = top.key in top.value
        if top.skipped:
            what = f"{shorten(top.key)} comes twice, first on line {self.lines[path]}"
            self.fault(line, what, "keep one of them", path)
        else:
            self.lines[path] = line
        return path
