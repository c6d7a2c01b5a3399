"""What a function of rotasolve may call, read from the source: through imports, helpers of helpers, and methods.

Names are followed wherever they are bound to a function or class of the package. An attribute is followed to every
function of that name in the classes of the modules that judge a garden, for its object's type is not known: so too much
may be found, never too little.
"""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

import rotasolve

ROOT = Path(rotasolve.__file__).parent
JUDGING = ("domain", "relations", "recount", "rules", "goals")
"""Packages whose functions are followed; the board and the solvers are the model's own."""

Function = ast.FunctionDef


@cache
def modules() -> dict[str, ast.Module]:
    """Return the source of every module of the packages that judge a garden, by its dotted name."""
    found = {}
    for package in JUDGING:
        for file in sorted((ROOT / package).rglob("*.py")):
            name = ".".join(("rotasolve", *file.relative_to(ROOT).with_suffix("").parts))
            found[name] = ast.parse(file.read_text("utf-8"))
    return found


@cache
def functions() -> dict[str, tuple[str, Function]]:
    """Return every function and method as ``module.function`` or ``module.Class.method``, with its module."""
    found = {}
    for module, tree in modules().items():
        for node in tree.body:
            if isinstance(node, ast.FunctionDef):
                found[f"{module}.{node.name}"] = (module, node)
            if isinstance(node, ast.ClassDef):
                for inner in node.body:
                    if isinstance(inner, ast.FunctionDef):
                        found[f"{module}.{node.name}.{inner.name}"] = (module, inner)
    return found


@cache
def _methods() -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for name in functions():
        parts = name.split(".")
        # The halves of rules and goals are asked for by name, never found by an attribute.
        if parts[-2][:1].isupper() and parts[1] not in ("rules", "goals"):
            found[parts[-1]] = (*found.get(parts[-1], ()), name)
    return found


@cache
def _bound(module: str) -> dict[str, str]:
    """Return what the names of a module mean: its own functions, and those imported anywhere in it."""
    names = {name.rpartition(".")[2]: name for name, (home, _) in functions().items() if home == module}
    for node in ast.walk(modules()[module]):
        if isinstance(node, ast.ImportFrom) and node.module:
            for alias in node.names:
                names[alias.asname or alias.name] = f"{node.module}.{alias.name}"
    return names


def called(name: str) -> frozenset[str]:
    """Return the functions that a function may call itself."""
    module, node = functions()[name]
    bound, found = _bound(module), set()
    own_class = name.rpartition(".")[0]
    for part in ast.walk(node):
        if isinstance(part, ast.Name):
            found.add(bound.get(part.id, ""))
        if isinstance(part, ast.Attribute):
            if isinstance(part.value, ast.Name) and part.value.id == "self":
                found.add(f"{own_class}.{part.attr}")
            # What is asked of a board is the model's own.
            elif not (isinstance(part.value, ast.Name) and part.value.id == "board"):
                found.update(_methods().get(part.attr, ()))
    return frozenset(found & functions().keys()) - {name}


def reached(name: str, stop: frozenset[str] = frozenset()) -> frozenset[str]:
    """Return every function that a function may call, on and on; those in ``stop`` are not looked into."""
    found: set[str] = set()
    ahead = [name]
    while ahead:
        for other in called(ahead.pop()) - found:
            found.add(other)
            if other not in stop:
                ahead.append(other)
    return frozenset(found)
