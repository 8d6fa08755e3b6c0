"""The training scripts are no package: they are imported from their folder, as they import one another."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2] / "models/training"))
