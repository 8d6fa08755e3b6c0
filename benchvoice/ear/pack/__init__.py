"""Making model directories for vosk from a net and a lexicon, with numpy alone: no Kaldi, no transducer library.

`pack(net_folder, lexicon_file, out_folder)` makes a whole one, `repack(model, lexicon, out_folder)` one with other
words.
"""

from benchvoice.ear.pack.directory import PackError, pack, repack
from benchvoice.ear.pack.graph import Costs
from benchvoice.ear.pack.kaldi import MatrixForm

__all__ = ["Costs", "MatrixForm", "PackError", "pack", "repack"]
