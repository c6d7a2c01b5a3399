"""How one unquoted word of a YAML file is read: the core rules of YAML 1.2, without their surprises.

Only ``true`` and ``false`` are yes and no. ``No``, ``on``, ``12:30`` and ``0123`` stay text, so a bed may be called
``No`` and a number with a leading zero is refused by the field that wants a number, not read in base eight.
"""

from __future__ import annotations

import math
import re

_NULL = frozenset({"", "~", "null", "Null", "NULL"})
_BOOLEAN = {"true": True, "True": True, "TRUE": True, "false": False, "False": False, "FALSE": False}
# [0-9] and not \d: digits of other scripts are text.
_WHOLE = re.compile(r"[-+]?(?:0|[1-9][0-9]*)")
_DECIMAL = re.compile(r"[-+]?(?:\.[0-9]+|(?:0|[1-9][0-9]*)(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?")
_NO_NUMBER = re.compile(r"[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)")
_FIRST = frozenset("0123456789+-.")

MOST_DIGITS = 15
"""Whole numbers up to 15 digits are exact as floats too; nothing in a garden needs more."""


class NotANumber(ValueError):
    """The word is written as a number that no garden can use; the message says why."""


def read_word(word: str) -> bool | int | float | str | None:
    """Return the value of an unquoted word.

    Raises
    ------
    NotANumber
        If it is infinite, not a number at all, or larger than any figure of a garden.
    """
    if word in _NULL:
        return None
    if word in _BOOLEAN:
        return _BOOLEAN[word]
    if word[0] not in _FIRST:
        return word
    if _WHOLE.fullmatch(word):
        if len(word) > MOST_DIGITS:
            raise NotANumber("this number is far too large")
        return int(word)
    if _DECIMAL.fullmatch(word):
        value = float(word)
        if not math.isfinite(value) or abs(value) >= 10.0**MOST_DIGITS:
            raise NotANumber("this number is far too large")
        return value
    if _NO_NUMBER.fullmatch(word):
        raise NotANumber("an infinite or undefined number cannot be used")
    return word
