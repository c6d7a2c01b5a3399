"""Single values set, and entries added and taken out, in a YAML file whose comments and order stay as they are.

Each edit is made twice: in the text, by the places of its values, and in the plain data. Where the two do not agree
the text is written in an unusual way, and is left as it is.
"""

from __future__ import annotations

import copy
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import yaml

from rotasolve.errors import FileTrouble, InputFault
from rotasolve.files.yaml_changes import replaced, without_entries
from rotasolve.files.yaml_entries import below, entry, last_line, line_end, with_entries, yaml_value
from rotasolve.files.yaml_text import read_yaml

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Put:
    """A field of a group is set to a value, whether it is there or not."""

    path: Path
    value: Any


@dataclass(frozen=True)
class Add:
    """An entry is added at the end of a list, which is begun if it is not there."""

    path: tuple[str, ...]
    fields: Mapping[str, Any] | str


@dataclass(frozen=True)
class Take:
    """An entry is taken out of a list, by its number from 0."""

    path: tuple[str, ...]
    number: int


Edit = Put | Add | Take


def edited(text: str, name: str, edits: Sequence[Edit]) -> str:
    """Return the text with all edits, one after the other.

    Raises
    ------
    FileTrouble
        If the text is written in so unusual a way that it cannot be changed; the message says what to do by hand.
    InputFault
        If it is no YAML.
    """
    for edit in edits:
        wanted = _in_data(read_yaml(text, name).data, edit)
        changed = _in_text(text, edit)
        try:
            agrees = changed is not None and read_yaml(changed, name).data == wanted
        except InputFault:
            agrees = False
        if changed is None or not agrees:
            raise FileTrouble(f"{name}: this cannot be written into the file as it stands; by hand: {_by_hand(edit)}")
        text = changed
    return text


def _by_hand(edit: Edit) -> str:
    where = " of ".join(str(step) if isinstance(step, str) else f"entry {step + 1}" for step in reversed(edit.path))
    if isinstance(edit, Put):
        return f"set {where} to {yaml_value(edit.value)}"
    if isinstance(edit, Take):
        return f"take entry {edit.number + 1} out of {where}"
    return f"add '- {_entry(edit.fields)}' to {where}"


def _entry(fields: Mapping[str, Any] | str) -> str:
    return yaml_value(fields) if isinstance(fields, str) else entry(fields)


def _in_data(data: Any, edit: Edit) -> Any:
    data = copy.deepcopy(data)
    above: Any = data
    for step in edit.path[:-1]:
        above = above.setdefault(step, {}) if isinstance(step, str) else above[step]
    last = edit.path[-1]
    if isinstance(edit, Put):
        above[last] = read_yaml(f"x: {yaml_value(edit.value)}", "x").data["x"]  # type: ignore[index,call-overload]
    elif isinstance(edit, Take):
        del above[last][edit.number]
    else:
        if above.get(last) is None:
            above[last] = []
        above[last].append(read_yaml(f"x: {_entry(edit.fields)}", "x").data["x"])  # type: ignore[index,call-overload]
    return data


def _in_text(text: str, edit: Edit) -> str | None:
    if isinstance(edit, Add):
        return with_entries(text, edit.path, [_entry(edit.fields)])
    if isinstance(edit, Take):
        return without_entries(text, edit.path, [edit.number])
    return _with_field(text, edit.path, yaml_value(edit.value))


def _with_field(text: str, path: Path, value: str) -> str | None:
    here: yaml.Node | None = yaml.compose(text, Loader=yaml.SafeLoader)
    for depth, step in enumerate(path):
        found = _inside(here, step)
        if found is None:
            return _added(text, here, path[depth:], value) if depth >= len(path) - 2 else None
        here = found
    return replaced(text, here, value) if here is not None and _stands_on_one_line(here) else None


def _stands_on_one_line(node: yaml.Node) -> bool:
    return isinstance(node, yaml.ScalarNode) or (isinstance(node, yaml.SequenceNode) and bool(node.flow_style))


def _inside(node: yaml.Node | None, step: str | int) -> yaml.Node | None:
    if isinstance(node, yaml.MappingNode):
        return next((value for key, value in node.value if key.value == step), None)
    if isinstance(node, yaml.SequenceNode) and isinstance(step, int) and step < len(node.value):
        return node.value[step]  # type: ignore[no-any-return]
    return None


def _added(text: str, above: yaml.Node | None, rest: Path, value: str) -> str | None:
    """Return the text with a field, and perhaps the group it stands in, behind the last field of a group."""
    if not isinstance(above, yaml.MappingNode) or not above.value:
        return None
    if above.flow_style:
        assert above.end_mark is not None
        closing = above.end_mark.index - 1
        inside = text[:closing].rstrip()
        comma = " " if inside.endswith(",") else ", "
        told = f"{rest[-1]}: {value}" if len(rest) == 1 else f"{rest[0]}: {{{rest[-1]}: {value}}}"
        return f"{inside}{comma}{told}{text[closing:]}"
    column = above.value[0][0].start_mark.column
    lines = [f"{' ' * (column + 2 * depth)}{step}:" for depth, step in enumerate(rest)]
    lines[-1] += f" {value}"
    return below(text, last_line(above), lines, line_end(text))
