"""Plans in and out, as JSON that is the same to the byte for the same plan, with one planting a line to edit."""

from __future__ import annotations

import json
import os
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

from pydantic import ValidationError

from rotasolve.domain.plan import PLAN_FORMAT, REACHED, Plan, Planting
from rotasolve.errors import InputFault
from rotasolve.files.document import BEGINNING, MOST_FAULTS, Document, TextPlace, fault_at, quoted
from rotasolve.files.faults import in_file_order
from rotasolve.files.files import read_text, write_text
from rotasolve.files.json_places import json_document, keys_written_twice, place_in, place_too_deep
from rotasolve.files.wording import did_you_mean, say_error
from rotasolve.files.yaml_text import DEEPEST

if TYPE_CHECKING:
    from rotasolve.domain.fault import Fault
    from rotasolve.files.wording import Refused

_LONG_NUMBER = re.compile(r"\d{1000,}")
"""Python reads whole numbers of 4,300 digits at most."""
_HALF_A_LETTER = re.compile(
    r"\\u[dD][89abAB][0-9a-fA-F]{2}\\u[dD][c-fC-F][0-9a-fA-F]{2}|\\[^u]|(\\u[dD][89a-fA-F][0-9a-fA-F]{2})"
)
"""Half of a letter that JSON writes as two escapes is the group; whole ones and other escapes are passed over."""
LARGEST_PLAN = 50_000_000
"""Bytes; ten years of the largest garden need about a tenth."""
MAY_BE_LEFT_OUT: Mapping[str, Any] = {
    "way": "sown in place",
    "clear": None,
    "rows": 1,
    "plants": 1,
    "harvest": {"low_kg": 0, "typical_kg": 0, "high_kg": 0},
}
"""What a planting added by hand need not say, for it follows from the rest, and what stands in until it is worked out;
in place of the day of clearing the day of the start."""
_PLANTING_FIELDS = tuple(Planting.model_fields)
_ONE_A_LINE = ("plantings", "targets", "goals")


@dataclass(frozen=True)
class PlanFile:
    """A plan as it stands in a file. ``left_out`` names, by number of planting, what has still to be worked out."""

    name: str
    text: str = field(repr=False)
    plan: Plan
    left_out: Mapping[int, frozenset[str]] = field(default_factory=dict)

    @cached_property
    def document(self) -> Document:
        """The same file with the place of every key and value."""
        return json_document(self.text, self.name)

    def place_of(self, number: int) -> str:
        """Return where a planting stands, as ``file:line:column``."""
        place = self.document.place_of_value(("plantings", number))
        return f"{self.name}:{place.line}:{place.column}"


def read_plan(path: Path) -> PlanFile:
    """Return the plan a file holds, with its text; plantings may leave out what follows from the rest.

    Raises
    ------
    FileTrouble
        If the file is missing or cannot be opened.
    InputFault
        If it is no JSON (with line and column), no plan, or a plan in a newer format.
    """
    return read_plan_text(read_text(path, largest=LARGEST_PLAN), str(path))


def read_plan_text(text: str, name: str) -> PlanFile:
    """Return the plan a JSON text holds; plantings may leave out what follows from the rest.

    Parameters
    ----------
    text
        The whole file.
    name
        The file's name for messages.

    Raises
    ------
    InputFault
        If it is no JSON, no plan, or a plan in a newer format: all faults, with line and column.
    """
    data, left_out = _load(text, name), {}
    listed = data.get("plantings")
    for number, planting in enumerate(listed if isinstance(listed, list) else ()):
        if isinstance(planting, dict) and (missing := MAY_BE_LEFT_OUT.keys() - planting.keys()):
            left_out[number] = frozenset(missing)
            for key in missing:
                planting[key] = planting.get("start", "") if key == "clear" else MAY_BE_LEFT_OUT[key]
    plan = _checked(json.dumps(data) if left_out else text, text, name)
    return PlanFile(name, text, plan, left_out)


def _load(text: str, name: str) -> dict[str, Any]:
    """Return the JSON group a plan file holds, or refuse what is none, is newer, or says a thing twice."""

    def refuse(what: str, mend: str = "", place: TextPlace = BEGINNING) -> NoReturn:
        raise InputFault([fault_at(name, tuple(text.split("\n")), place, what, mend)])

    if deep := place_too_deep(text, DEEPEST):
        refuse(f"the file is not a plan: more than {DEEPEST} brackets are open here", "is it the right file?", deep)
    try:
        data = json.loads(text)
    except json.JSONDecodeError as error:
        refuse(*_say_broken(error), TextPlace(error.lineno, error.colno))
    except ValueError:
        long = _LONG_NUMBER.search(text)
        place = BEGINNING if long is None else place_in(text, long.start())
        refuse("the file is not a plan: this number is far too large", "write a number such as 12 or 0.5", place)
    if not isinstance(data, dict):
        refuse("the file is not a plan", "is it the right file?")
    half = next((match for match in _HALF_A_LETTER.finditer(text) if match[1]), None)
    if half is not None:
        refuse("half a letter stands here", "take it out, or write the letter itself", place_in(text, half.start()))
    written = data.get("format")
    if isinstance(written, int) and not isinstance(written, bool) and written > PLAN_FORMAT:
        what = f"this plan is written in format {written}; this rotasolve reads format {PLAN_FORMAT}"
        refuse(what, "use a newer rotasolve", json_document(text, name).place_of_value(("format",)))
    if _says_twice(text):
        lines = tuple(text.split("\n"))
        told = keys_written_twice(text)
        mend = "keep one of the two; a planting of its own needs braces of its own"
        raise InputFault([fault_at(name, lines, at, f"{quoted(key)} is written twice", mend) for key, at in told])
    return data


def _says_twice(text: str) -> bool:
    found = False

    def count(pairs: list[tuple[str, Any]]) -> None:
        nonlocal found
        found = found or len({key for key, _ in pairs}) < len(pairs)

    json.loads(text, object_pairs_hook=count)
    return found


def _say_broken(error: json.JSONDecodeError) -> tuple[str, str]:
    """Say why a text is no JSON, in the words of somebody who has just edited it."""
    if not error.pos or not error.doc.lstrip().startswith("{"):
        return "the file is not a whole plan", "is it the right file?"
    if error.pos >= len(error.doc.rstrip()):
        return "the file is not a whole plan: it ends too soon", "a closing bracket is missing, or make the plan again"
    message = error.msg.lower()
    if "delimiter" in message:
        sign = "colon" if "':'" in message else "comma"
        return f"the file is not a whole plan: a {sign} is missing before this place", "or a quote or bracket is"
    if "string" in message or "control" in message or "escape" in message:
        return "the file is not a whole plan: a quote is missing here", "texts and dates stand in double quotes"
    if "extra data" in message:
        return "the file is not a whole plan: it goes on behind its last bracket", "a bracket before this is too much"
    mend = "a comma stands between two plantings and none behind the last one; texts and dates are in double quotes"
    return "the file is not a whole plan: something is missing or too much here", mend


def _checked(data: str, text: str, name: str) -> Plan:
    """Return the plan of a JSON text, its faults shown at their places in the text of the file."""
    from rotasolve.goals import GOALS

    try:
        return Plan.model_validate_json(
            data, strict=True, context={REACHED: {goal.key: goal.reached for goal in GOALS}}
        )
    except ValidationError as refusal:
        document = json_document(text, name)
        errors = refusal.errors(include_url=False)[:MOST_FAULTS]
        raise InputFault(in_file_order(_fault(error, document) for error in errors)) from None


def _fault(error: Refused, document: Document) -> Fault:
    steps = tuple(error["loc"])
    said = _say_steps(steps)
    if error["type"] == "missing":
        return document.key_fault(steps[:-1], f"{said} is missing", f"add {quoted(steps[-1])} to it")
    if error["type"] == "extra_forbidden":
        fields = {"plantings": _PLANTING_FIELDS}.get(str(steps[0]), tuple(Plan.model_fields))
        hint = did_you_mean(str(steps[-1]), fields)
        return document.key_fault(steps, f"{said} is not a field known here", hint or "take it out")
    what, mend = say_error(error, steps[-1:])
    if error["type"] in ("tuple_type", "list_type"):
        mend = "write it in brackets, such as [1, 2]"
    return document.value_fault(steps, f"{said}: {what}", mend)


def write_plan(plan: Plan, path: Path, overwrite: bool) -> None:
    """Write a plan as JSON, one planting a line, whole or not at all.

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


def way_to(scenario: Path, plan: Path) -> str:
    """Return the way from a plan's file to its scenario's, as the plan tells it (``Plan.scenario_file``)."""
    found = scenario.resolve()
    try:
        return Path(os.path.relpath(found, plan.resolve().parent)).as_posix()
    except ValueError:  # on another drive, to which no relative way leads
        return found.as_posix()


def plan_text(plan: Plan) -> str:
    """Return the JSON text of a plan: fields in the record's order, one planting a line, a line end at the end."""
    parts = []
    for key, value in plan.model_dump(mode="json").items():
        if key in _ONE_A_LINE and value:
            told = "[\n" + ",\n".join(f"  {_on_a_line(entry)}" for entry in value) + "\n ]"
        elif isinstance(value, dict) and key != "written":
            told = json.dumps(value, ensure_ascii=False, indent=1).replace("\n", "\n ")
        else:
            told = _on_a_line(value)
        parts.append(f" {_on_a_line(key)}: {told}")
    return "{\n" + ",\n".join(parts) + "\n}\n"


def _on_a_line(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)


def _say_steps(steps: tuple[str | int, ...]) -> str:
    """Say a path as ``plantings[3].crop``, counting from 0 as JSON tools do."""
    said = "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in steps)
    return said.removeprefix(".") or "the plan"
