"""What every rule file must be: named after its key, documented in four parts, listed once, and tested."""

from __future__ import annotations

import ast
import importlib
import inspect
import re
from pathlib import Path

import pytest

import rotasolve.rules
from rotasolve.rule import Rule
from rotasolve.rules import RULES, rule_by_key

PACKAGE = Path(inspect.getfile(rotasolve.rules)).parent
TESTS = Path(__file__).parent
STEMS = sorted(file.stem for file in PACKAGE.glob("*.py") if file.stem != "__init__")
PARTS = ["What it asks", "Why", "Breaks it", "Loosen it"]


def parts_of_docstring(text: str) -> dict[str, str]:
    """Return the parts of a manual page: unindented headings, each with its indented text."""
    found: dict[str, str] = {}
    for heading, body in re.findall(r"^(\S.*)\n((?:    .*\n?)+)", text, flags=re.MULTILINE):
        found[heading] = body.strip()
    return found


@pytest.mark.parametrize("stem", STEMS)
def test_a_rule_file_is_listed_once_under_its_name(stem: str) -> None:
    module = f"rotasolve.rules.{stem}"
    ours = [rule for rule in RULES if type(rule).__module__ == module]
    assert [rule.key for rule in ours] == [stem.replace("_", "-")]


def test_every_listed_rule_has_a_file() -> None:
    assert sorted(rule.key for rule in RULES) == [stem.replace("_", "-") for stem in STEMS]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.key)
def test_a_rule_is_found_by_its_key(rule: Rule) -> None:
    assert rule_by_key(rule.key) is rule


def test_an_unknown_key_is_refused() -> None:
    with pytest.raises(KeyError, match="no-such-rule"):
        rule_by_key("no-such-rule")


@pytest.mark.parametrize("stem", STEMS)
def test_the_docstring_is_a_manual_page_of_four_parts(stem: str) -> None:
    text = importlib.import_module(f"rotasolve.rules.{stem}").__doc__ or ""
    parts = parts_of_docstring(text)
    assert list(parts) == PARTS
    assert all(len(body) > 20 for body in parts.values())
    assert text.splitlines()[0].startswith(stem.replace("_", " ").capitalize() + ": ")


@pytest.mark.parametrize("stem", STEMS)
def test_a_rule_has_a_test_file(stem: str) -> None:
    file = TESTS / f"test_{stem}.py"
    assert file.is_file(), f"{file.name} is missing"
    tests = [node.name for node in ast.parse(file.read_text("utf-8")).body if isinstance(node, ast.FunctionDef)]
    assert sum(name.startswith("test_") for name in tests) >= 3


@pytest.mark.parametrize("stem", STEMS)
def test_the_two_halves_of_a_rule_share_only_names_of_claims(stem: str) -> None:
    """``post`` and ``breaches`` may call the same helper of their file only to name a claim or to ask if it is on."""
    tree = ast.parse((PACKAGE / f"{stem}.py").read_text("utf-8"))
    own = {node.name for node in tree.body if isinstance(node, ast.FunctionDef)}
    (rule,) = [node for node in tree.body if isinstance(node, ast.ClassDef)]
    uses = {
        method.name: {node.id for node in ast.walk(method) if isinstance(node, ast.Name)} & own
        for method in rule.body
        if isinstance(method, ast.FunctionDef)
    }
    assert {"post", "breaches", "hinders", "say"} <= uses.keys()
    shared = uses["post"] & uses["breaches"]
    allowed = {name for name in own if name.endswith("_claim")} | {"rule_is_on", "_years"}
    assert shared <= allowed
