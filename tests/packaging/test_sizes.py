"""The house is kept in small rooms: no long file, no long function, and nothing imported that is not declared."""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator
from pathlib import Path

from tests.packaging.test_locks import CLUSTER, NEEDED

ROOT = Path(__file__).parents[2]
LONGEST_FILE, LONGEST_FUNCTION = 350, 60
"""Lines, docstrings counted."""
DISTRIBUTIONS = {"yaml": "pyyaml"}
"""Packages whose distribution has another name."""


def too_long(text: str, name: str) -> Iterator[str]:
    """Yield the file and its functions that have too many lines."""
    lines = text.count("\n")
    if lines > LONGEST_FILE:
        yield f"{name}: {lines} lines"
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            lines = (node.end_lineno or node.lineno) - node.lineno + 1
            if lines > LONGEST_FUNCTION:
                yield f"{name}, {node.name}: {lines} lines"


def imported(text: str) -> set[str]:
    """Return the packages that a module imports, wherever in it."""
    found = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            found |= {alias.name.partition(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            found.add(node.module.partition(".")[0])
    return found


def test_no_file_and_no_function_is_long() -> None:
    files = [file for folder in ("rotasolve", "tests") for file in sorted((ROOT / folder).rglob("*.py"))]
    assert len(files) > 300
    assert [one for file in files for one in too_long(file.read_text("utf-8"), str(file.relative_to(ROOT)))] == []


def test_what_is_imported_is_declared() -> None:
    declared = {re.split(r"[>=<]", one)[0] for one in [*NEEDED, *CLUSTER]}
    used = set().union(*(imported(file.read_text("utf-8")) for file in (ROOT / "rotasolve").rglob("*.py")))
    foreign = used - sys.stdlib_module_names - {"rotasolve"}
    assert {DISTRIBUTIONS.get(name, name) for name in foreign} == declared


def test_a_long_function_and_an_import_inside_one_are_seen() -> None:
    text = "def f() -> None:\n" + "    import numpy.linalg\n" * 60
    assert list(too_long(text, "a.py")) == ["a.py, f: 61 lines"]
    assert list(too_long("x = 1\n" * 351, "b.py")) == ["b.py: 351 lines"]
    assert imported(text) == {"numpy"}
