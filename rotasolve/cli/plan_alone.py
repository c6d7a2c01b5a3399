"""A plan file by itself stands for its scenario and itself: ``show garden.plan.json``.

A plan keeps the way from its file to the scenario's, so that both may be moved together. Here the scenario is put in
front of a plan that is typed without one, before a command's words are looked at.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from typer.core import TyperGroup

from rotasolve.errors import FileTrouble

_KEPT = re.compile(r'^ "scenario_file": ("(?:[^"\\]|\\.)*")', re.MULTILINE)
_MARK = '"plantings"'
_LARGEST = 50_000_000
"""Bytes; as ``files.plans``, which is not loaded before it is known that there is a plan."""


class PlanAlone(TyperGroup):
    """The group of all commands, which lets a plan file stand where a scenario and its plan are asked for."""

    def resolve_command(self, ctx: Any, args: list[str]) -> tuple[str | None, Any, list[str]]:
        """Return the command's name, the command and its words, a plan's scenario among them."""
        name, command, words = super().resolve_command(ctx, args)
        return name, command, words if command is None else with_scenario(command, ctx, words)


def with_scenario(command: Any, ctx: Any, words: list[str]) -> list[str]:
    """Return a command's words with the scenario of a plan that was named in its place.

    Raises
    ------
    FileTrouble
        If the plan's scenario is not known, or not there any more.
    """
    named = {one.name for one in command.params if one.param_type_name == "argument"}
    if "scenario" not in named:
        return words
    # Wrong use is told by the command itself, a little later.
    inner = command.context_class(command, parent=ctx, resilient_parsing=True, **command.context_settings)
    told = command.make_parser(inner).parse_args(list(words))[0]
    plan, behind = told.get("scenario"), told.get("plan")
    if not isinstance(plan, str) or not holds_plan(plan):
        return words
    place = words.index(plan)
    if "plan" in named and isinstance(behind, str) and _is_file(Path(behind)) and not holds_plan(behind):
        swapped = list(words)
        swapped[place], swapped[words.index(behind)] = behind, plan
        return swapped
    scenario = scenario_of(Path(plan))
    if "plan" in named:
        return [*words[:place], scenario, *words[place:]]
    options = {one.name for one in command.params} - named
    beside = ["--plan", plan] if "plan" in options and behind is None else []
    return [*words[:place], scenario, *words[place + 1 :], *beside]


def holds_plan(word: str) -> bool:
    """Return whether a word names a file with a plan, whatever is wrong in it."""
    return _MARK in (_text(Path(word)) or "")


def scenario_of(plan: Path) -> str:
    """Return the scenario that a plan file was made for, as it may be typed: a file, or a shipped one's name.

    Raises
    ------
    FileTrouble
        If the plan does not say, or there is no such file.
    """
    from rotasolve.cli.inputs import shipped_scenarios

    kept = _KEPT.search(_text(plan) or "")
    try:
        name = str(json.loads(kept[1])) if kept is not None else ""
    except ValueError:
        name = ""
    if not name:
        raise FileTrouble(f"{plan} does not say which scenario it was made for; name the scenario before it")
    file = plan.parent / name
    if _is_file(file):
        return str(file)
    if name in shipped_scenarios():
        return name
    raise FileTrouble(f"{plan} was made for {file}, which is not there any more; name the scenario before it")


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):  # a name that no system takes
        return False


def _text(path: Path) -> str | None:
    """Return the text of a file if it may be a plan's."""
    try:
        if not _is_file(path) or path.stat().st_size > _LARGEST:
            return None
        with path.open("rb") as file:
            start = file.read(100)
            text = start.lstrip(b"\xef\xbb\xbf \t\r\n")
            return (start + file.read()).decode("utf-8", "replace") if text.startswith(b"{") else None
    except (OSError, ValueError):  # told where the file is read
        return None
