"""Small changes that spoil a file: of its letters, its lines, and of the values it holds."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Callable
from typing import Any

import yaml

VALUES: tuple[Any, ...] = (
    None,
    True,
    -1,
    0,
    1,
    0.5,
    1e-9,
    1e15,
    10**14,
    10**40,
    2201,
    1949,
    1960,
    2180,
    -66,
    66,
    "",
    " ",
    "x" * 10_000,
    "\x1b[31mred\x07",
    "\u202egnp.exe",
    "\ud800",
    "29 February",
    "2027-02-30",
    "9999-12-31",
    "31 December",
    "1e400 m",
    "-4 m",
    "100 m",
    "family:",
    [],
    {},
    [[]],
    [None],
    {"": ""},
    ["x"] * 300,
)
"""What stands in for a value: nothing, the ends of what is allowed and what lies beyond, other kinds, bad letters."""
SNIPPETS = (
    "\t",
    ": ",
    "- ",
    "[" * 40,
    "{" * 40,
    "'",
    '"',
    "\\",
    "#",
    "&a ",
    "*a",
    "!!python/object:os.system ",
    "%",
    "---\n",
    "\r",
    "\x00",
    "\x1b[2J",
    "\u202e",
    "\u2028",
    "\u0085",
    "\ufeff",
    "9" * 5000,
    "é" * 200,
    "\U0001f954",
    "<<: ",
    "? ",
    "|\n",
    ",",
    "}",
    "NaN",
    "Infinity",
    ".inf",
    "\\ud800",
)
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def spoilt(text: str, chance: random.Random) -> str:
    """Return a text with one to three small changes."""
    for _ in range(chance.randint(1, 3)):
        text = chance.choice(CHANGES)(text, chance)
    return text


def _line_gone(text: str, chance: random.Random) -> str:
    lines = text.split("\n")
    del lines[chance.randrange(len(lines))]
    return "\n".join(lines)


def _line_twice(text: str, chance: random.Random) -> str:
    lines = text.split("\n")
    at = chance.randrange(len(lines))
    return "\n".join([*lines[: at + 1], *lines[at:]])


def _lines_changed_over(text: str, chance: random.Random) -> str:
    lines = text.split("\n")
    one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
    lines[one], lines[other] = lines[other], lines[one]
    return "\n".join(lines)


def _indented(text: str, chance: random.Random) -> str:
    lines = text.split("\n")
    at = chance.randrange(len(lines))
    lines[at] = chance.choice([" " + lines[at], lines[at].lstrip(), "\t" + lines[at]])
    return "\n".join(lines)


def _cut_off(text: str, chance: random.Random) -> str:
    return text[: chance.randint(0, len(text))]


def _letters_gone(text: str, chance: random.Random) -> str:
    at = chance.randint(0, len(text))
    return text[:at] + text[at + chance.randint(1, 20) :]


def _snippet(text: str, chance: random.Random) -> str:
    at = chance.randint(0, len(text))
    return text[:at] + chance.choice(SNIPPETS) + text[at:]


def _other_number(text: str, chance: random.Random) -> str:
    found = list(_NUMBER.finditer(text))
    if not found:
        return text
    number = chance.choice(found)
    other = chance.choice(["0", "-1", "1e9", "0.0000001", "99999999999999", "2500", "1", "365", "401"])
    return text[: number.start()] + other + text[number.end() :]


def _other_value(text: str, chance: random.Random) -> str:
    """Return the text with a value put in place of another, left out, or repeated; as JSON, which is YAML too."""
    try:
        data = json.loads(text) if text.lstrip().startswith("{") else yaml.safe_load(text)
    except (ValueError, yaml.YAMLError, RecursionError):
        return text
    places: list[tuple[Any, Any]] = []

    def gather(group: Any) -> None:
        for key in list(group) if isinstance(group, dict) else range(len(group)):
            places.append((group, key))
            if isinstance(group[key], dict | list):
                gather(group[key])

    if not isinstance(data, dict | list) or not data:
        return text
    gather(data)
    group, key = chance.choice(places)
    what = chance.randrange(4)
    if what == 0:
        del group[key]
    elif what == 1 and isinstance(group, list):
        group += [group[key]] * chance.choice([1, 2, 120])
    elif what == 1:
        group[chance.choice(["", "title", "beds", "x" * 200, "<<"])] = group[key]
    else:
        group[key] = chance.choice(VALUES)
    return json.dumps(data, indent=chance.choice([None, 1]), ensure_ascii=chance.choice([True, False]), default=str)


CHANGES: tuple[Callable[[str, random.Random], str], ...] = (
    _line_gone,
    _line_twice,
    _lines_changed_over,
    _indented,
    _cut_off,
    _letters_gone,
    _snippet,
    _other_number,
    _other_number,
    *[_other_value] * 6,
)
"""Ways to spoil a text; those that leave it readable stand oftener, for they reach further in."""
