"""Entries added to a list of a YAML file whose comments, order and spelling stay as they are."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

import yaml

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from datetime import date

    Value = str | int | float | date | Sequence[int]

_PLAIN_WORDS = re.compile(r"[A-Za-z]+(?: [A-Za-z]+)*")
_NEVER_PLAIN = frozenset({"true", "false", "null", "yes", "no", "on", "off", "y", "n"})
_ESCAPED = re.compile(r"[\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff]")


def yaml_words(value: str) -> str:
    """Return a text as YAML reads it back, in quotes unless it is plain words."""
    if _PLAIN_WORDS.fullmatch(value) and value.casefold() not in _NEVER_PLAIN:
        return value
    # JSON's quoting is YAML's double quoting, but a few invisible signs must not stand in a YAML file as they are.
    return _ESCAPED.sub(lambda sign: f"\\u{ord(sign[0]):04x}", json.dumps(value, ensure_ascii=False))


def entry(fields: Mapping[str, Value]) -> str:
    """Return one entry of a list on one line: ``{bed: left bed, crop: potato, year: 2026}``."""
    return "{" + ", ".join(f"{name}: {_value(value)}" for name, value in fields.items()) + "}"


def _value(value: Value) -> str:
    if isinstance(value, str):
        return yaml_words(value)
    if isinstance(value, int | float):
        return repr(value)
    return str(list(value)) if not hasattr(value, "isoformat") else value.isoformat()


def with_entries(text: str, field: str, entries: Iterable[str]) -> str | None:
    """Return a YAML file with entries added at the end of the list that a field of the file holds.

    The list is begun at the end of the file if the field is not there. What cannot be added so, for a file or its list
    is written in an unusual way, gives None; the caller reads the text anew in any case.
    """
    added = list(entries)
    end = "\r\n" if "\r\n" in text else "\n"
    try:
        root = yaml.compose(text, Loader=yaml.SafeLoader)
    except yaml.YAMLError:
        return None
    if not isinstance(root, yaml.MappingNode) or root.flow_style:
        return None
    for key, value in root.value:
        if key.value == field:
            return _into(text, key, value, added, end)
    lines = [f"{field}:", *(f"  - {one}" for one in added)]
    before = text if not text or text.endswith("\n") else text + end
    return before + end.join([*lines, ""])


def _into(text: str, key: yaml.Node, value: yaml.Node, added: list[str], end: str) -> str | None:
    if isinstance(value, yaml.SequenceNode) and value.value:
        if value.flow_style:
            return _into_brackets(text, value, added)
        first = value.value[0].start_mark
        # The dash of the first item stands on its line before it; a dash alone on its line is left to the caller.
        line = text.split("\n")[first.line]
        dash = line[: first.column].rfind("-")
        if line[: max(dash, 0)].strip() or dash < 0:
            return None
        return _below(text, last_line(value), [f"{line[:dash]}- {one}" for one in added], end)
    if not isinstance(value, yaml.SequenceNode) or key.end_mark is None or value.end_mark is None:
        return None
    # Empty brackets behind the field's name; a comment on that line stays.
    kept = text[: key.end_mark.index] + ":" + text[value.end_mark.index :]
    return _below(kept, key.end_mark.line, [f"  - {one}" for one in added], end)


def _into_brackets(text: str, value: yaml.SequenceNode, added: list[str]) -> str:
    assert value.end_mark is not None  # the composer marks every node
    closing = value.end_mark.index - 1
    inside = text[:closing].rstrip()
    comma = " " if inside.endswith(",") else ", "
    return inside + comma + ", ".join(added) + text[closing:]


def last_line(node: yaml.Node) -> int:
    """Return the line, from 0, on which the last thing inside a node ends, comments behind it left out."""
    if isinstance(node, yaml.CollectionNode) and node.value and not node.flow_style:
        last = node.value[-1]
        return last_line(last[1] if isinstance(last, tuple) else last)
    assert node.end_mark is not None
    return node.end_mark.line


def _below(text: str, line: int, added: list[str], end: str) -> str:
    lines = text.split("\n")
    before, behind = lines[: line + 1], lines[line + 1 :]
    last = before[-1] if before[-1].endswith("\r") or end == "\n" else before[-1] + "\r"
    new = end.join(added).split("\n")
    if end == "\r\n":
        new[-1] += "\r" if behind else ""
    return "\n".join([*before[:-1], last, *new, *behind])
