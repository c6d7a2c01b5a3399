"""Where each key and each value of a JSON text was written: for faults with line and column."""

from __future__ import annotations

import json
import re
from bisect import bisect_right
from typing import TYPE_CHECKING, Any

from rotasolve.files.document import Document, TextPlace

if TYPE_CHECKING:
    from rotasolve.files.document import KeyPath

_BLANK = re.compile(r"[ \t\n\r]*")
_PLAIN_VALUE = re.compile(r"[^\s,\]}]+")
_TEXT_OR_BRACKET = re.compile(r'"(?:[^"\\]|\\.)*"|[\[\]{}]', re.DOTALL)


def json_document(text: str, file: str) -> Document:
    """Return a JSON text, which must be whole, with the place of every key and value.

    A key that is written twice has the place, and the value, of the last one, as JSON readers take it.
    """
    scan = _Scan(text)
    scan.value(_blank(text, 0), ())
    return Document(file, tuple(text.split("\n")), json.loads(text), scan.keys, scan.values)


def keys_written_twice(text: str) -> list[tuple[str, TextPlace]]:
    """Return each key that its group holds twice, with the place of the later one."""
    scan = _Scan(text)
    scan.value(_blank(text, 0), ())
    return scan.twice


def place_too_deep(text: str, deepest: int) -> TextPlace | None:
    """Return where a text that may be JSON opens a bracket inside more than ``deepest`` others, if it does."""
    depth = 0
    for match in _TEXT_OR_BRACKET.finditer(text):
        depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(match[0], 0)
        if depth > deepest:
            return place_in(text, match.start())
    return None


def place_in(text: str, at: int) -> TextPlace:
    """Return line and column of an offset."""
    return TextPlace(text.count("\n", 0, at) + 1, at - text.rfind("\n", 0, at))


def _blank(text: str, at: int) -> int:
    match = _BLANK.match(text, at)
    return match.end() if match else at


class _Scan:
    """One pass over a whole JSON text."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.keys: dict[KeyPath, TextPlace] = {}
        self.values: dict[KeyPath, TextPlace] = {}
        self.twice: list[tuple[str, TextPlace]] = []
        self._starts = [0, *(match.end() for match in re.finditer("\n", text))]

    def value(self, at: int, path: KeyPath) -> int:
        """Take in the value that begins at an offset and return the offset behind it."""
        self.values[path] = self._place(at)
        sign = self.text[at]
        if sign == "{":
            return self._group(at + 1, path)
        if sign == "[":
            return self._list(at + 1, path)
        if sign == '"':
            return self._string(at)[1]
        match = _PLAIN_VALUE.match(self.text, at)
        assert match is not None  # the text is whole JSON
        return match.end()

    def _group(self, at: int, path: KeyPath) -> int:
        at, known = _blank(self.text, at), set()
        while self.text[at] != "}":
            key, behind = self._string(at)
            if key in known:
                self.twice.append((key, self._place(at)))
            known.add(key)
            self.keys[(*path, key)] = self._place(at)
            colon = _blank(self.text, behind)
            at = self._next(self.value(_blank(self.text, colon + 1), (*path, key)))
        return at + 1

    def _list(self, at: int, path: KeyPath) -> int:
        at, number = _blank(self.text, at), 0
        while self.text[at] != "]":
            at = self._next(self.value(at, (*path, number)))
            number += 1
        return at + 1

    def _next(self, at: int) -> int:
        at = _blank(self.text, at)
        return _blank(self.text, at + 1) if self.text[at] == "," else at

    def _string(self, at: int) -> tuple[str, int]:
        found: tuple[Any, int] = json.JSONDecoder().raw_decode(self.text, at)
        return str(found[0]), found[1]

    def _place(self, at: int) -> TextPlace:
        line = bisect_right(self._starts, at)
        return TextPlace(line, at - self._starts[line - 1] + 1)
