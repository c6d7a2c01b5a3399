"""The words for one value that a record refuses: what is wrong, and what would be accepted."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from rotasolve.domain.signs import blanked, shortened
from rotasolve.errors import Unusable
from rotasolve.files.document import quoted, say_plain

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rotasolve.files.document import KeyPath

Refused = Mapping[str, Any]
"""One error of a record, as pydantic lists it."""
_LONGEST_MESSAGE = 240
_SHIFTED = re.compile(
    r"^\s*([-+]?[0-9]+(?:[.,][0-9]+)?)\s*[^\W\d_][^\d]*$|^\s*([-+]?[0-9]+(?:[.,][0-9]+)?)\s*[%\"']\s*$"
)
_PLAIN_NUMBER = re.compile(r"^[-+]?[0-9]+(?:\.[0-9]+)?$")


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known name most like ``word``, upper and lower case alike, or None if none is near."""
    by_fold = {name.casefold(): name for name in known}
    # Long words are cut: difflib's time grows with the square of the length.
    close = difflib.get_close_matches(word.casefold()[:80], by_fold, n=1, cutoff=0.6)
    return by_fold[close[0]] if close else None


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Return ``did you mean 'x'?`` for the nearest known name, or an empty text."""
    name = nearest(word, known)
    return f"did you mean '{name}'?" if name else ""


def say_path(path: KeyPath) -> str:
    """Say where a value lies, such as ``'kg'`` or ``entry 2 of 'beds'``."""
    if not path:
        return "the file"
    last = path[-1]
    if isinstance(last, str):
        return quoted(last)
    return f"entry {last + 1} of {say_path(path[:-1])}"


def say_error(error: Refused, path: KeyPath) -> tuple[str, str]:
    """Return (what is wrong, what would be accepted) for one error of a record."""
    what, mend = _say(error["type"], error.get("input"), error.get("ctx", {}), say_path(path), error["msg"])
    return _cut(what), _cut(mend)


def _cut(text: str) -> str:
    return shortened(blanked(text), _LONGEST_MESSAGE)


def _say(kind: str, value: object, context: Mapping[str, object], label: str, message: str) -> tuple[str, str]:
    if kind == "value_error":
        error = context.get("error")
        if isinstance(error, Unusable):
            return f"{label}: {error.what}", error.mend
        return f"{label}: {error or message}", ""
    if value is None:
        return f"{label} has no value", "write one, or remove the line"
    if kind == "literal_error":
        return _say_choice(value, str(context["expected"]), label)
    if kind in ("int_type", "int_parsing", "int_from_float", "float_type", "float_parsing", "int_parsing_size"):
        whole = kind.startswith("int")
        return f"{label} must be a {'whole ' if whole else ''}number, not {quoted(value)}", _number_advice(value, whole)
    if kind == "string_type":
        if isinstance(value, bool | int | float):
            return f"{label} must be text, not {say_plain(value)}", f'put it in quotes: "{say_plain(value)}"'
        return f"{label} must be text, not {say_plain(value)}", "write one text, in quotes if need be"
    if kind in ("bool_type", "bool_parsing"):
        word = str(value).strip().lower()
        wish = {"yes": "true", "on": "true", "y": "true", "no": "false", "off": "false", "n": "false"}.get(word)
        return f"{label} must be true or false, not {quoted(value)}", f"write {wish or 'true or false'}"
    if bound := _say_bound(kind, value, context, label):
        return bound
    if kind in ("model_type", "model_attributes_type", "dict_type"):
        return f"{label} must be a group of fields, not {_kind_of(value)}", "write each as field: value, indented below"
    if kind in ("tuple_type", "list_type"):
        return f"{label} must be a list, not {_kind_of(value)}", "begin each entry on its own line with '- '"
    return f"{label}: {message[:1].lower()}{message[1:]}", ""


def _say_bound(kind: str, value: object, context: Mapping[str, object], label: str) -> tuple[str, str] | None:
    bounds = {
        "greater_than": ("gt", "more than"),
        "greater_than_equal": ("ge", "at least"),
        "less_than": ("lt", "less than"),
        "less_than_equal": ("le", "at most"),
    }
    if kind in bounds:
        key, words = bounds[kind]
        return f"{label} must be {words} {context[key]}, not {say_plain(value)}", ""
    if kind == "too_short":
        least = context["min_length"]
        return f"{label} needs at least {least} {'entry' if least == 1 else 'entries'}", "add one, or remove the line"
    if kind == "too_long":
        return f"{label} has more than {context['max_length']} entries", "take some out"
    if kind == "string_too_short":
        return f"{label} is empty", "write at least one letter"
    if kind == "string_too_long":
        return f"{label} is longer than {context['max_length']} letters: {quoted(value, 30)}", "shorten it"
    if kind == "string_pattern_mismatch":
        return f"{label} must stand on one line, without tabs", "write it on one line"
    return None


def _say_choice(value: object, expected: str, label: str) -> tuple[str, str]:
    found = re.findall(r"'([^']*)'|\b(True|False)\b", expected)
    choices = [word or truth.lower() for word, truth in found]
    if not choices:
        return f"{label} cannot be {quoted(value)}", f"write {expected}"
    near = did_you_mean(value, choices) if isinstance(value, str) else ""
    if near and len(choices) > 1:
        return f"{label} cannot be {quoted(value)}", f"{near} (one of: {', '.join(choices)})"
    return f"{label} cannot be {quoted(value)}", f"write one of: {', '.join(choices)}"


def _number_advice(value: object, whole: bool) -> str:
    """Return what to write where a number was expected."""
    example = "write a whole number such as 3" if whole else "write a number such as 3 or 0.5"
    if isinstance(value, float):
        return f"write {value:.0f}" if value.is_integer() else example
    if not isinstance(value, str) or len(value) > 40:
        return example
    text = value.strip()
    if match := _SHIFTED.match(text):
        number = (match[1] or match[2]).replace(",", ".")
        return f"write the number only: {number}" if not whole or "." not in number else example
    tidy = re.sub(r"(?<=[0-9])[ _](?=[0-9]{3})", "", text)
    # One comma before one, two or more than three digits can only be a decimal comma.
    tidy = re.sub(r"^([-+]?[0-9]+),([0-9]{1,2}|[0-9]{4,})$", r"\1.\2", tidy)
    tidy = re.sub(r"^([-+]?)0+(?=[0-9])", r"\1", tidy)
    if not _PLAIN_NUMBER.match(tidy) or (whole and "." in tidy):
        return example
    return f"write {tidy} without quotes" if tidy == text else f"write {tidy}"


def _kind_of(value: object) -> str:
    return say_plain(value) if isinstance(value, dict | list) else quoted(value)
