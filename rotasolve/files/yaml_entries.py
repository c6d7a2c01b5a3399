"""Entries added to a list of a YAML file whose comments, order and spelling stay as they are."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

import yaml

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from datetime import date

    Value = str | int | float | date | Sequence[int] | Sequence[str]

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
    return "{" + ", ".join(f"{name}: {yaml_value(value)}" for name, value in fields.items()) + "}"


def yaml_value(value: Value) -> str:
    """Return a text, a number, a date or a list of them as YAML reads it back."""
    if isinstance(value, str):
        return yaml_words(value)
    if isinstance(value, int | float):
        return repr(value)
    if hasattr(value, "isoformat"):
        return value.isoformat()
    return "[" + ", ".join(yaml_value(one) for one in value) + "]"


def line_end(text: str) -> str:
    """Return what ends the lines of a file."""
    return "\r\n" if "\r\n" in text else "\n"


def with_entries(text: str, field: str | Sequence[str], entries: Iterable[str]) -> str | None:
    """Return a YAML file with entries added at the end of the list that a field of the file, or of a group, holds.

    The list is begun at the end of the file, or of the group, if the field is not there. What cannot be added so, for
    a file or its list is written in an unusual way, gives None; the caller reads the text anew in any case.
    """
    added, path = list(entries), (field,) if isinstance(field, str) else tuple(field)
    try:
        above = yaml.compose(text, Loader=yaml.SafeLoader)
    except yaml.YAMLError:
        return None
    for depth, step in enumerate(path):
        if not isinstance(above, yaml.MappingNode) or (above.flow_style and not depth):
            return None
        found = next(((key, value) for key, value in above.value if key.value == step), None)
        if found is None:
            return _begun(text, above, path[depth:], added, whole=not depth)
        if depth == len(path) - 1:
            return _into(text, *found, added)
        above = found[1]
    return None


def _begun(text: str, above: yaml.MappingNode, path: Sequence[str], added: list[str], whole: bool) -> str | None:
    """Return the text with a new list behind all else in it, or in a group of it."""
    end = line_end(text)
    if whole:
        lines = [f"{'  ' * depth}{step}:" for depth, step in enumerate(path)]
        lines += [f"{'  ' * len(path)}- {one}" for one in added]
        before = text if not text or text.endswith("\n") else text + end
        return before + end.join([*lines, ""])
    if not above.value or len(path) > 1 or above.end_mark is None:
        return None
    if above.flow_style:
        return _in_brackets(text, above.end_mark.index - 1, f"{path[0]}: [{', '.join(added)}]")
    indent = " " * above.value[0][0].start_mark.column
    return below(text, last_line(above), [f"{indent}{path[0]}:", *(f"{indent}  - {one}" for one in added)], end)


def _into(text: str, key: yaml.Node, value: yaml.Node, added: list[str]) -> str | None:
    end = line_end(text)
    if isinstance(value, yaml.SequenceNode) and value.value:
        if value.flow_style:
            assert value.end_mark is not None  # the composer marks every node
            return _in_brackets(text, value.end_mark.index - 1, ", ".join(added))
        first = value.value[0].start_mark
        # The dash of the first item stands on its line before it; a dash alone on its line is left to the caller.
        line = text.split("\n")[first.line]
        dash = line[: first.column].rfind("-")
        if line[: max(dash, 0)].strip() or dash < 0:
            return None
        return below(text, last_line(value), [f"{line[:dash]}- {one}" for one in added], end)
    if not isinstance(value, yaml.SequenceNode) or key.end_mark is None or value.end_mark is None:
        return None
    assert key.start_mark is not None  # the composer marks every node
    if text[: key.start_mark.index].split("\n")[-1].strip():  # within a group in brackets
        return f"{text[: value.end_mark.index - 1]}{', '.join(added)}{text[value.end_mark.index - 1 :]}"
    # Empty brackets behind the field's name; a comment on that line stays.
    kept = text[: key.end_mark.index] + ":" + text[value.end_mark.index :]
    indent = " " * (2 + key.start_mark.column)
    return below(kept, key.end_mark.line, [f"{indent}- {one}" for one in added], end)


def _in_brackets(text: str, closing: int, added: str) -> str:
    """Return the text with something more before a closing bracket."""
    inside = text[:closing].rstrip()
    comma = " " if inside.endswith(",") else ", "
    return inside + comma + added + text[closing:]


def last_line(node: yaml.Node) -> int:
    """Return the line, from 0, on which the last thing inside a node ends, comments behind it left out."""
    if isinstance(node, yaml.CollectionNode) and node.value and not node.flow_style:
        last = node.value[-1]
        return last_line(last[1] if isinstance(last, tuple) else last)
    assert node.end_mark is not None
    return node.end_mark.line


def below(text: str, line: int, added: list[str], end: str) -> str:
    """Return the text with lines added below one of it, counted from 0."""
    lines = text.split("\n")
    before, behind = lines[: line + 1], lines[line + 1 :]
    last = before[-1] if before[-1].endswith("\r") or end == "\n" else before[-1] + "\r"
    new = end.join(added).split("\n")
    if end == "\r\n":
        new[-1] += "\r" if behind else ""
    return "\n".join([*before[:-1], last, *new, *behind])
