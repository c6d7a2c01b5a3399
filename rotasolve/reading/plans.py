"""Plans in and out, as JSON that is the same to the byte for the same plan."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, NoReturn

from pydantic import ValidationError

from rotasolve.domain.plan import PLAN_FORMAT, Plan
from rotasolve.errors import InputFault
from rotasolve.reading.document import Place, fault_at
from rotasolve.reading.files import read_text, write_text
from rotasolve.reading.wording import say_error

if TYPE_CHECKING:
    from pathlib import Path

    from pydantic_core import ErrorDetails

    from rotasolve.domain.fault import Fault

_WHOLE_FILE = Place(0, 0)
LARGEST_PLAN = 50_000_000
"""Bytes; ten years of the largest garden need about a tenth."""


def read_plan(path: Path) -> Plan:
    """Return the plan a file holds.

    Raises
    ------
    FileTrouble
        If the file is missing or cannot be opened.
    InputFault
        If it is no JSON (with line and column), no plan, or a plan in a newer format.
    """
    return read_plan_text(read_text(path, largest=LARGEST_PLAN), str(path))


def read_plan_text(text: str, name: str) -> Plan:
    """Return the plan a JSON text holds.

    Parameters
    ----------
    text
        The whole file.
    name
        The file's name for messages.

    Raises
    ------
    InputFault
        If it is no JSON (with line and column), no plan, or a plan in a newer format.
    """

    def refuse(what: str, mend: str = "", place: Place = _WHOLE_FILE) -> NoReturn:
        raise InputFault([fault_at(name, tuple(text.split("\n")) if place.line else (), place, what, mend)])

    try:
        data = json.loads(text)
    except json.JSONDecodeError as error:
        refuse("the file is not a whole plan", "make the plan again", Place(error.lineno, error.colno))
    except (ValueError, RecursionError):
        refuse("the file is not a plan", "make the plan again")
    if not isinstance(data, dict):
        refuse("the file is not a plan", "is it the right file?")
    written = data.get("format")
    if isinstance(written, int) and not isinstance(written, bool) and written > PLAN_FORMAT:
        what = f"this plan is written in format {written}; this rotasolve reads format {PLAN_FORMAT}"
        refuse(what, "use a newer rotasolve")
    try:
        return Plan.model_validate_json(text, strict=True)
    except ValidationError as refusal:
        raise InputFault([_fault(error, name) for error in refusal.errors(include_url=False)]) from None


def _fault(error: ErrorDetails, name: str) -> Fault:
    steps = tuple(error["loc"])
    said = _say_steps(steps)
    if error["type"] == "missing":
        return fault_at(name, (), _WHOLE_FILE, f"{said} is missing")
    if error["type"] == "extra_forbidden":
        return fault_at(name, (), _WHOLE_FILE, f"{said} is not a field known here")
    what, mend = say_error(error, steps[-1:])
    return fault_at(name, (), _WHOLE_FILE, f"{said}: {what}", mend)


def write_plan(plan: Plan, path: Path, overwrite: bool) -> None:
    """Write a plan as JSON, one value a line, whole or not at all.

    Parameters
    ----------
    plan
        The plan.
    path
        The file to write.
    overwrite
        Whether a file that is there already may be replaced.

    Raises
    ------
    FileTrouble
        If the file is there and ``overwrite`` is False, or it cannot be written.
    """
    write_text(plan_text(plan), path, overwrite=overwrite)


def plan_text(plan: Plan) -> str:
    """Return the JSON text of a plan: fields in the record's order, a line end at the end."""
    return plan.model_dump_json(indent=1) + "\n"


def _say_steps(steps: tuple[str | int, ...]) -> str:
    """Say a path as ``plantings[3].crop``, counting from 0 as JSON tools do."""
    said = "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in steps)
    return said.removeprefix(".") or "the plan"
