"""Values changed and entries taken out in a YAML file whose comments, order and spelling stay as they are.

What is written in so unusual a way that it cannot be changed gives None; the caller reads the text anew in any case.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import yaml

from rotasolve.files.yaml_entries import last_line

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence


def with_value(text: str, field: str, value: str) -> str | None:
    """Return the text with another word or number behind a field of the file."""
    found = _node(text, (field,))
    return replaced(text, found, value) if isinstance(found, yaml.ScalarNode) else None


def without_entries(text: str, path: Sequence[str], numbers: Collection[int]) -> str | None:
    """Return the text without some entries, counted from 0, of the list at a path of fields."""
    found = _node(text, path)
    if not isinstance(found, yaml.SequenceNode):
        return text if not numbers else None
    left = [item for number, item in enumerate(found.value) if number not in numbers]
    if found.flow_style or not left:
        kept = "[" + ", ".join(_slice(text, item) for item in left) + "]"
        return replaced(text, found, kept)
    lines = text.split("\n")
    gone: set[int] = set()
    for number in numbers:
        item = found.value[number]
        first = item.start_mark.line
        if "-" not in lines[first][: item.start_mark.column]:
            return None  # the dash stands alone on a line above
        gone |= set(range(first, last_line(item) + 1))
    return "\n".join(line for number, line in enumerate(lines) if number not in gone)


def _node(text: str, path: Sequence[str]) -> yaml.Node | None:
    try:
        found = yaml.compose(text, Loader=yaml.SafeLoader)
    except yaml.YAMLError:
        return None
    for step in path:
        if not isinstance(found, yaml.MappingNode):
            return None
        found = next((value for key, value in found.value if key.value == step), None)
    return found


def _slice(text: str, node: yaml.Node) -> str:
    if not isinstance(node, yaml.CollectionNode) or node.flow_style:
        return text[node.start_mark.index : node.end_mark.index]
    # A block's end lies where the next thing begins.
    lines = text[node.start_mark.index :].split("\n")[: last_line(node) - node.start_mark.line + 1]
    return "\n".join(lines)


def replaced(text: str, node: yaml.Node, new: str) -> str:
    """Return the text with a value replaced; an empty list behind a field stands on the field's line."""
    old = _slice(text, node)
    before, behind = text[: node.start_mark.index], text[node.start_mark.index + len(old) :]
    if isinstance(node, yaml.SequenceNode) and not node.flow_style:
        before = before.rstrip(" \r\n") + " "
    return before + new + behind
