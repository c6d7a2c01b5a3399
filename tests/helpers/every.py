"""What rules and goals have in common: one file each, a manual page, kinds of facts, and a file of words."""

from __future__ import annotations

import ast
import importlib
import inspect
import re
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rotasolve.domain.claim import Facts


def stems_of(package: ModuleType) -> list[str]:
    """Return the names of a package's files, without its own."""
    folder = Path(inspect.getfile(package)).parent
    return sorted(file.stem for file in folder.glob("*.py") if file.stem != "__init__")


def parts_of_docstring(text: str) -> dict[str, str]:
    """Return the parts of a manual page: unindented headings, each with its indented text."""
    found: dict[str, str] = {}
    for heading, body in re.findall(r"^(\S.*)\n((?:    .*\n?)+)", text, flags=re.MULTILINE):
        found[heading] = body.strip()
    return found


def assert_manual_page(module: str, parts: list[str]) -> None:
    """Assert that a module's docstring begins with its name and has these parts, each with something in it."""
    text = importlib.import_module(module).__doc__ or ""
    told = parts_of_docstring(text)
    assert list(told) == parts
    assert all(len(body) > 20 for body in told.values())
    assert text.startswith(module.rpartition(".")[2].replace("_", " ").capitalize() + ": ")


def assert_tested(folder: Path, stem: str) -> None:
    """Assert that a rule or goal has a test file of its own with three tests or more."""
    tree = ast.parse((folder / f"test_{stem}.py").read_text("utf-8"))
    tests = [node.name for node in tree.body if isinstance(node, ast.FunctionDef)]
    assert sum(name.startswith("test_") for name in tests) >= 3


def kinds_of_facts(name: str) -> list[type[Facts]]:
    """Return the kinds of facts a module defines."""
    from rotasolve.domain.claim import Facts

    module = importlib.import_module(name)
    return [
        kind
        for kind in vars(module).values()
        if isinstance(kind, type) and issubclass(kind, Facts) and kind.__module__ == module.__name__
    ]


def texts_put_together(name: str) -> list[str]:
    """Return the words between the blanks of a module's texts, but for names and for what is raised.

    Names are those of the board's variables, and what a ``name`` or ``__str__`` returns.
    """
    tree = ast.parse(Path(inspect.getfile(importlib.import_module(name))).read_text("utf-8"))
    left_out: set[ast.AST] = set()
    for node in ast.walk(tree):
        is_name = isinstance(node, ast.FunctionDef) and node.name in ("name", "__str__")
        if is_name or isinstance(node, ast.Raise):
            left_out.update(ast.walk(node))
        elif isinstance(node, ast.Call) and ast.unparse(node.func) == "board.variable":
            left_out.update(node.args)
    texts = [
        part.value
        for text in ast.walk(tree)
        if isinstance(text, ast.JoinedStr) and text not in left_out
        for part in text.values
        if isinstance(part, ast.Constant) and isinstance(part.value, str)
    ]
    return [text for text in texts if " " in text.strip()]
