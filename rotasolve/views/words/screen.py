"""Long pages on one screen: the beginning, how much more there is and how to see it, and the end if it is short."""

from __future__ import annotations

from rotasolve.views.words.layout import wrap
from rotasolve.views.words.wording import say_count

LINES = 60
"""The most lines of a page that was not asked for whole."""
_LONGEST_END = 8
_FEWEST = 5
"""Of a paragraph or table that does not fit at least so many lines are shown, or none."""


def on_one_screen(text: str, width: int, how: str) -> str:
    """Return a page of at most ``LINES`` lines; ``how`` says how to see the rest.

    The last paragraph stays if it is short, for there stand cautions.
    """
    lines = text.rstrip("\n").split("\n")
    if len(lines) <= LINES:
        return text
    blank = max((place for place, line in enumerate(lines) if not line), default=len(lines))
    end = lines[blank:] if len(lines) - blank <= _LONGEST_END else []
    # Measured with the longest number there can be, so that the sentence fits whatever is left out.
    room = LINES - len(end) - 1 - len(_more(len(lines), width, how))
    shown = lines[:room]
    begun = max((place for place, line in enumerate(shown) if not line), default=0)
    if len(shown) - begun <= _FEWEST and begun:
        shown = shown[:begun]  # neither a heading alone ends the page, nor the head of a table
    left = len(lines) - len(shown) - len(end)
    return "\n".join([*shown, "", *_more(left, width, how), *end]) + "\n"


def _more(left: int, width: int, how: str) -> list[str]:
    return wrap(f"{say_count(left, 'more line')} left out: {how}.", width)
