"""Model directories that vosk loads: made from a net and a lexicon, or made again from another with more words.

    am/final.mdl            the net and its transition model; knows nothing of words
    conf/                   options of the features and of the search
    graph/                  made of the lexicon: HCLr.fst, Gr.fst, words.txt and small tables
    lexicon.txt             the words and their pronunciations: the truth that graph/ is made from
    packed.json             the sounds of the net and the graph's costs: what a new graph needs besides the lexicon
    SHA256SUMS              of all these files, as `sha256sum -c` reads it

Everything is written deterministically: the same inputs give the same bytes on every machine.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from benchvoice.ear.lexicon import Lexicon, read, unparse
from benchvoice.ear.pack.fst import const_bytes, lookahead_bytes
from benchvoice.ear.pack.graph import Costs, any_word, build_graph, unknown_sounds
from benchvoice.ear.pack.kaldi import KaldiWriter, MatrixForm
from benchvoice.ear.pack.net import Net, read_net, write_nnet3
from benchvoice.ear.pack.phones import PhoneTable, Topology, write_transition_model
from benchvoice.errors import InputError

FORMAT = 1
"""Of packed.json; raised when this package can't use an older one."""

SUMS = "SHA256SUMS"

FEATURES: Mapping[str, str] = {
    "use-energy": "false",
    "sample-frequency": "16000",
    "num-mel-bins": "40",
    "num-ceps": "40",
    "low-freq": "20",
    "high-freq": "-400",
    "dither": "0.0",  # vosk's own dither would make results random
    "snip-edges": "true",
}

PAUSE = "1.0"
"""Seconds of silence after which vosk ends a piece. We decide when an utterance ends, and pieces are joined: an end in
its middle, where the net was quiet for half a second between two words, cost a word in up to one string in five (dev,
by net). With no end at all strings came out the same, and long noise took a tenth more time."""

SEARCH: Mapping[str, str] = {
    "min-active": "200",
    "max-active": "3000",
    "beam": "12.0",
    "lattice-beam": "4.0",
    "acoustic-scale": "1.0",
    "phone-determinize": "false",  # with the filler's loop it takes seconds and changes nothing
    "endpoint.silence-phones": "1",  # vosk finds no ends at all without it
    "endpoint.rule2.min-trailing-silence": PAUSE,
    "endpoint.rule3.min-trailing-silence": PAUSE,
    "endpoint.rule4.min-trailing-silence": PAUSE,
}


class PackError(InputError):
    """A net or a lexicon that can't be packed."""


@dataclass(frozen=True, slots=True)
class Packed:
    """What is in packed.json."""

    topology: Topology
    costs: Costs

    @classmethod
    def read(cls, model: Path) -> Packed:
        data = json.loads((model / "packed.json").read_text(encoding="utf-8"))
        if data["format"] != FORMAT:
            raise ValueError(f"its format is {data['format']}, not {FORMAT}")
        return cls(Topology.from_json(data["units"], data["topology"]), Costs.from_json(data["costs"]))

    def write(self, model: Path) -> None:
        topology = self.topology
        data = {
            "format": FORMAT,
            "units": list(topology.units),
            "topology": topology.to_json(),
            "costs": self.costs.to_json(),
        }
        _write(model / "packed.json", json.dumps(data, indent=1) + "\n")


def pack(
    net_folder: Path,
    lexicon_file: Path,
    out_folder: Path,
    *,
    costs: Costs | None = None,
    form: MatrixForm = MatrixForm.TWO_BYTES,
    search: Mapping[str, str] | None = None,
) -> None:
    """Makes a model directory from a trained net (see `net`) and a lexicon.

    PackError when they don't fit together; OSError when a file can't be read or written.
    """
    try:
        net, lexicon = read_net(net_folder), read(lexicon_file)
    except (KeyError, TypeError, ValueError) as fault:
        raise PackError(f"{net_folder} and {lexicon_file} can't be packed: {fault}.") from fault
    phones = PhoneTable(net.topology)
    _refuse_unknown_sounds(phones, lexicon, lexicon_file)
    _write_acoustics(out_folder, phones, net, form)
    options = {**SEARCH, "frame-subsampling-factor": str(net.subsampling), **(search or {})}
    _write(out_folder / "conf/mfcc.conf", _options(FEATURES))
    _write(out_folder / "conf/model.conf", _options(options))
    packed = Packed(net.topology, costs or Costs())
    packed.write(out_folder)
    _write_words(out_folder, packed, lexicon)


def repack(model: Path, lexicon: Lexicon, out_folder: Path) -> None:
    """The same ears with other words: makes `out_folder` from a packed model (which may be the same) and a lexicon.

    PackError when the model was not packed here, or the lexicon holds a sound that the net doesn't know.
    """
    try:
        packed = Packed.read(model)
    except (OSError, KeyError, TypeError, ValueError) as fault:
        raise PackError(f"{model} can't take new words: its packed.json can't be used ({fault}).") from fault
    _refuse_unknown_sounds(PhoneTable(packed.topology), lexicon, out_folder)
    if out_folder != model:
        for name in ("am/final.mdl", "conf/mfcc.conf", "conf/model.conf", "packed.json"):
            _link_or_copy(model / name, out_folder / name)
    _write_words(out_folder, packed, lexicon)


def _refuse_unknown_sounds(phones: PhoneTable, lexicon: Lexicon, where: Path) -> None:
    if strange := list(unknown_sounds(phones, lexicon)):
        listed = ", ".join(f"{sound} in {word}" for word, sound in strange[:5])
        known = " ".join(sorted(phones.topology.spellable))
        raise PackError(f"{where}: sounds that the model doesn't have: {listed}; it has {known}.")
    if not lexicon:
        raise PackError(f"{where}: the lexicon holds no words.")


def _write_acoustics(folder: Path, phones: PhoneTable, net: Net, form: MatrixForm) -> None:
    out = KaldiWriter()
    write_transition_model(out, phones)
    write_nnet3(out, net, form)
    path = folder / "am/final.mdl"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(out.getvalue())


def _write_words(folder: Path, packed: Packed, lexicon: Lexicon) -> None:
    """Everything that depends on the lexicon, and the sums."""
    phones = PhoneTable(packed.topology)
    graph = build_graph(phones, lexicon, packed.costs)
    (folder / "graph/phones").mkdir(parents=True, exist_ok=True)
    (folder / "graph/HCLr.fst").write_bytes(lookahead_bytes(graph.fst, graph.reach, graph.final_label))
    (folder / "graph/Gr.fst").write_bytes(const_bytes(any_word(len(graph.words) - 1)))
    _write(folder / "graph/words.txt", _numbered(graph.words))
    # vosk wants at least one label to cut out; one above every transition-id harms nothing
    _write(folder / "graph/disambig_tid.int", f"{phones.transitions + 1}\n")
    _write(folder / "graph/phones.txt", _numbered(phones.names))
    boundaries = enumerate(phones.boundaries, start=1)
    _write(folder / "graph/phones/word_boundary.int", "".join(f"{number} {kind}\n" for number, kind in boundaries))
    _write(folder / "lexicon.txt", unparse(lexicon))
    _write(folder / SUMS, sums(folder))


def packed_files(folder: Path) -> list[str]:
    """The files of a packed model that decide what it hears, as relative POSIX paths in order."""
    inside = [path for part in ("am", "conf", "graph") for path in (folder / part).rglob("*") if path.is_file()]
    own = [folder / "lexicon.txt", folder / "packed.json"]
    return sorted(path.relative_to(folder).as_posix() for path in (*inside, *own))


def sums(folder: Path) -> str:
    """The text of SHA256SUMS."""
    return "".join(
        f"{hashlib.sha256((folder / name).read_bytes()).hexdigest()}  {name}\n" for name in packed_files(folder)
    )


def _numbered(names: tuple[str, ...]) -> str:
    return "".join(f"{name} {number}\n" for number, name in enumerate(names))


def _options(options: Mapping[str, str]) -> str:
    return "".join(f"--{name}={value}\n" for name, value in options.items())


def _write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(text.encode("utf-8"))  # the same bytes on every system: no translated line ends


def _link_or_copy(source: Path, target: Path) -> None:
    """A second name for a file where the file system can (the net is most of a model), else a copy."""
    target.parent.mkdir(parents=True, exist_ok=True)
    target.unlink(missing_ok=True)
    try:
        os.link(source, target)
    except OSError:
        shutil.copyfile(source, target)
