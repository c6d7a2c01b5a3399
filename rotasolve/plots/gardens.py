"""Which gardens there are: the scenario files of folders, or files named one by one, each with a name of its own."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from rotasolve.errors import FileTrouble
from rotasolve.files.plans import way_to
from rotasolve.files.refusals import refused
from rotasolve.files.shipped import shipped_files

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from importlib.resources.abc import Traversable

ENDINGS = (".yaml", ".yml")
PLAN_ENDING = ".plan.json"
TABLE = "plots.csv"


@dataclass(frozen=True)
class GardenFile:
    """A scenario file, whether it came with rotasolve, and the name of its garden: the file's without its ending."""

    garden: str
    file: Path | Traversable
    shipped: bool = False

    def plan_in(self, folder: Path) -> Path:
        """Return where the garden's plan lies in a folder of plans."""
        return folder / f"{self.garden}{PLAN_ENDING}"

    def way_from(self, plan: Path) -> str:
        """Return where the garden's scenario is, as a plan tells it (``Plan.scenario_file``)."""
        return self.garden if self.shipped or not isinstance(self.file, Path) else way_to(self.file, plan)


def gardens_in(files: Iterable[Path | Traversable]) -> tuple[GardenFile, ...]:
    """Return the gardens of files and folders; those of a folder by name, hidden files left out.

    Raises
    ------
    FileTrouble
        If a folder holds no scenario file or cannot be read, or two gardens have one name.
    """
    found: dict[str, GardenFile] = {}
    for file in files:
        for garden in _in_folder(file) if isinstance(file, Path) and file.is_dir() else (_named(file),):
            # Some file systems do not tell large letters from small ones, and plans are named after gardens.
            other = found.setdefault(garden.garden.casefold(), garden)
            if other.file != garden.file:
                raise FileTrouble(
                    f"{garden.file} and {other.file} would both be the garden '{garden.garden}'; rename one of them"
                )
    return tuple(found.values())


def _in_folder(folder: Path) -> Iterator[GardenFile]:
    with refused(folder, "cannot be read"):
        files = sorted(file for file in folder.iterdir() if file.suffix.lower() in ENDINGS)
    # A link that leads nowhere is somebody's garden all the same, and told; a pipe would be waited for without end.
    files = [file for file in files if not file.name.startswith(".") and (file.is_file() or not file.exists())]
    if not files:
        raise FileTrouble(f"{folder}: no scenario file (.yaml) lies in this folder")
    return (GardenFile(_name(file), file) for file in files)


def _named(file: Path | Traversable) -> GardenFile:
    shipped = any(str(file) == str(known) for known in shipped_files("scenarios"))
    return GardenFile(_name(file), file, shipped)


def _name(file: Path | Traversable) -> str:
    for ending in ENDINGS:
        if file.name.lower().endswith(ending):
            return file.name[: -len(ending)]
    return file.name
