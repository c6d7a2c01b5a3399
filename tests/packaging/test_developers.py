"""DEVELOPERS.md leads nowhere that is not there: a path in it is a file, a folder, a module or a name in a module."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
PATHS = sorted(set(re.findall(r"`([\w.-]+(?:/[\w.-]+)+/?|[a-z_]+\.\w+|[a-z_]+/)`", TEXT)))
"""What stands in backticks and has a slash or a dot inside, and neither a blank nor any other sign."""


def names_in(body: list[ast.stmt]) -> dict[str, list[ast.stmt]]:
    """Return what is defined in a module or a class, each name with the lines inside it."""
    found: dict[str, list[ast.stmt]] = {}
    for line in body:
        if isinstance(line, ast.FunctionDef | ast.ClassDef):
            found[line.name] = line.body
        elif isinstance(line, ast.Assign | ast.AnnAssign):
            targets = line.targets if isinstance(line, ast.Assign) else [line.target]
            found |= {target.id: [] for target in targets if isinstance(target, ast.Name)}
    return found


def defines(module: Path, names: list[str]) -> bool:
    """Return whether a module, given without its ending, is there and defines the names, one inside the other."""
    file = next(
        (file for file in (module.with_name(f"{module.name}.py"), module / "__init__.py") if file.is_file()), None
    )
    if file is None:
        return False
    body = ast.parse(file.read_text(encoding="utf-8")).body
    for name in names:
        known = names_in(body)
        if name not in known:
            return False
        body = known[name]
    return True


def leads_somewhere(path: str) -> bool:
    """Return whether a path is there, from the top or from the package, as a file, a folder, a module or a name."""
    module, *names = Path(path).name.split(".")
    below = Path(path).parent / module if module else Path(path)
    return any((root / path).exists() or defines(root / below, names) for root in (ROOT, ROOT / "rotasolve"))


@pytest.mark.parametrize("path", PATHS)
def test_a_path_leads_somewhere(path: str) -> None:
    assert leads_somewhere(path)


@pytest.mark.parametrize("folder", ["relations", "views"])
def test_every_folder_of_the_sorted_layers_is_named(folder: str) -> None:
    inside = {file.parent.name for file in (ROOT / "rotasolve" / folder).glob("*/__init__.py")}
    assert len(inside) >= 5
    assert {path.split("/")[1] for path in PATHS if re.fullmatch(rf"{folder}/\w+", path)} >= inside


@pytest.mark.parametrize(
    ("path", "there"),
    [
        ("domain/seasons", True),
        ("domain/seasons.garden_year", True),
        ("domain/plan.Planting.crop", True),
        ("rules.RULES", True),
        ("domain/seasons.no_such_name", False),
        ("domain/plan.Planting.no_such_field", False),
        ("relations/no_such_module", False),
        ("tests/no_such_folder", False),
    ],
)
def test_a_wrong_path_is_found(path: str, there: bool) -> None:
    assert leads_somewhere(path) is there
