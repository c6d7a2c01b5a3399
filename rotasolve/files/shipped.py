"""Where the crops and scenarios that come with rotasolve lie: in the installed package, or in a checkout."""

from __future__ import annotations

import importlib.resources
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from rotasolve.errors import FileTrouble

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

ShippedName = Literal["crops", "scenarios"]


def shipped_folder(name: ShippedName) -> Traversable:
    """Return the folder of shipped data of that name.

    Raises
    ------
    FileTrouble
        If it is in neither place; the message names both.
    """
    package = importlib.resources.files("rotasolve")
    installed = package / "_shipped" / name
    if installed.is_dir():
        return installed
    checkout = _checkout(package)
    # Only beside pyproject.toml: any folder called crops next to an installed package could be taken otherwise.
    if checkout is not None and (checkout / "pyproject.toml").is_file() and (checkout / name).is_dir():
        return checkout / name
    looked = str(installed) if checkout is None else f"{installed} and {checkout / name}"
    raise FileTrouble(f"the folder {name} that comes with rotasolve is missing: looked in {looked}; install it again")


def shipped_files(name: ShippedName, suffix: str = ".yaml") -> tuple[Traversable, ...]:
    """Return the files of a shipped folder with that suffix, by name.

    Raises
    ------
    FileTrouble
        If the folder is missing.
    """
    found = [entry for entry in shipped_folder(name).iterdir() if entry.name.endswith(suffix) and entry.is_file()]
    return tuple(sorted(found, key=lambda entry: entry.name))


def _checkout(package: Traversable) -> Path | None:
    """Return the folder above the package if it lies on disk, None if inside an archive."""
    return package.resolve().parent if isinstance(package, Path) else None
