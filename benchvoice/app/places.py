"""Where things are: shipped procedures, and the folder that builds go to."""

import re
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from platformdirs import user_data_path

import benchvoice
from benchvoice.errors import InputError

if TYPE_CHECKING:  # commands that read no procedure start without pydantic
    from benchvoice.procedure.models import Procedure


def shipped_procedures() -> Path:
    """The folder of the procedures that come with benchvoice."""
    package = Path(benchvoice.__file__).parent
    packaged = package / "data" / "procedures"
    return packaged if packaged.is_dir() else package.parent / "procedures"


def find_procedure(name: str) -> Path:
    """A procedure by its path, or a shipped one by its bare name. InputError when there is none."""
    path = Path(name)
    if path.exists() or len(path.parts) > 1 or path.suffix:
        return path
    shipped = shipped_procedures() / f"{name}.yaml"
    if shipped.is_file():
        return shipped
    names = ", ".join(sorted(each.stem for each in shipped_procedures().glob("*.yaml")))
    raise InputError(f"There is no procedure {name}: name a file, or one of {names}.")


def register_file() -> Path | None:
    """The shop's register of instruments in the user's data folder: instruments.yaml or .json; None: there is none."""
    home = user_data_path("benchvoice", appauthor=False)
    names = (home / name for name in ("instruments.yaml", "instruments.yml", "instruments.json"))
    return next((file for file in names if file.is_file()), None)


def builds_folder() -> Path:
    """Where builds go when no folder is named."""
    return user_data_path("benchvoice", appauthor=False) / "builds"


def new_build_folder(procedure: "Procedure", machine: str | None, day: date | None = None) -> Path:
    """A folder for a new build, named by machine, procedure and date; numbered when that is taken."""
    parts = (machine or procedure.machine or "machine", procedure.title, (day or date.today()).isoformat())
    name = "-".join(re.sub(r"[^a-z0-9]+", "-", part.lower()).strip("-") for part in parts)
    folder, n = builds_folder() / name, 2
    while folder.exists():
        folder, n = builds_folder() / f"{name}-{n}", n + 1
    return folder
