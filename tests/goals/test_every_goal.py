"""What every goal file must be: named after its key, documented in three parts, listed once, and tested."""

from __future__ import annotations

import ast
import importlib
import inspect
import re
from pathlib import Path

import pytest

import rotasolve.goals
from rotasolve.goals import GOALS

PACKAGE = Path(inspect.getfile(rotasolve.goals)).parent
TESTS = Path(__file__).parent
STEMS = sorted(file.stem for file in PACKAGE.glob("*.py") if file.stem != "__init__")
PARTS = ["What it asks", "Why", "Loosen it"]


@pytest.mark.parametrize("stem", STEMS)
def test_a_goal_file_is_listed_once_under_its_name(stem: str) -> None:
    ours = [goal for goal in GOALS if type(goal).__module__ == f"rotasolve.goals.{stem}"]
    assert [goal.key for goal in ours] == [stem.replace("_", "-")]


def test_every_listed_goal_has_a_file() -> None:
    assert sorted(goal.key for goal in GOALS) == [stem.replace("_", "-") for stem in STEMS]


@pytest.mark.parametrize("stem", STEMS)
def test_the_docstring_is_a_manual_page_of_three_parts(stem: str) -> None:
    text = importlib.import_module(f"rotasolve.goals.{stem}").__doc__ or ""
    parts = dict(re.findall(r"^(\S.*)\n((?:    .*\n?)+)", text, flags=re.MULTILINE))
    assert list(parts) == PARTS
    assert all(len(body.strip()) > 20 for body in parts.values())
    assert text.splitlines()[0].startswith(stem.replace("_", " ").capitalize() + ": ")


@pytest.mark.parametrize("stem", STEMS)
def test_a_goal_has_a_test_file(stem: str) -> None:
    file = TESTS / f"test_{stem}.py"
    assert file.is_file(), f"{file.name} is missing"
    tests = [node.name for node in ast.parse(file.read_text("utf-8")).body if isinstance(node, ast.FunctionDef)]
    assert sum(name.startswith("test_") for name in tests) >= 3
