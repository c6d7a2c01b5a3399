"""Texts of the user's on their way to a terminal: no control sign gets through, and no name fills the screen."""

from __future__ import annotations

import re

_UNSHOWABLE = re.compile(
    r"[\x00-\x1f\x7f-\x9f\ud800-\udfff\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb]"
)
_BOLD = re.compile(r"(\n|\x1b\[[01]m)")
"""What a page of ours may hold beside letters: line ends, and bold on and off."""
LONGEST_LINE = 600
_CUT = " [...] "


def clean(text: str) -> str:
    """Return a text on one line without control signs, which could move the cursor or turn the line round."""
    return _UNSHOWABLE.sub(lambda sign: " " if sign[0] in "\t\n\r\u2028\u2029" else "?", text)


def blanked(text: str) -> str:
    """Return a text with a blank for each control sign, so that columns stay right."""
    return _UNSHOWABLE.sub(" ", text)


def shortened(text: str, most: int = LONGEST_LINE) -> str:
    """Return a text of at most ``most`` letters: of a longer one its beginning and its end."""
    if len(text) <= most:
        return text
    half = (most - len(_CUT)) // 2
    return text[:half] + _CUT + text[-half:]


def for_terminal(text: str, bold: bool = False) -> str:
    """Return a text of several lines, each of them clean; ``bold`` lets bold letters through."""
    parts = _BOLD.split(text)
    # Every second part is what was split at.
    return "".join(
        clean(part) if nth % 2 == 0 else part if bold or part == "\n" else "" for nth, part in enumerate(parts)
    )
