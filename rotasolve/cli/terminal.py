"""The terminal: answers go to stdout, talk to stderr; how wide it is and which signs it can show."""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import sys
from typing import TYPE_CHECKING, Any, TextIO

if TYPE_CHECKING:
    from rotasolve.views.words.look import Look

_WIDEST = 160
_NARROWEST = 20


def prepare_streams() -> None:
    """Make sure that no letter a stream cannot show ends the program."""
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(AttributeError, ValueError, OSError):
            stream.reconfigure(errors="replace")  # type: ignore[union-attr]


def answer(text: str) -> None:
    """Write an answer to stdout."""
    sys.stdout.write(text if text.endswith("\n") else text + "\n")
    sys.stdout.flush()


def answer_file(text: str) -> None:
    """Write a whole file to stdout in UTF-8, whatever letters a terminal could show."""
    sys.stdout.flush()
    sys.stdout.buffer.write(text.encode("utf-8"))
    sys.stdout.buffer.flush()


def answer_json(value: dict[str, Any]) -> None:
    """Write an answer to stdout as one JSON document, in ASCII so that every reader gets it whole."""
    answer(json.dumps(value, indent=1, ensure_ascii=True, allow_nan=False))


def talk(text: str) -> None:
    """Say something beside the answer, on stderr. Nobody listening there is no reason to stop."""
    with contextlib.suppress(OSError, ValueError):
        sys.stderr.write(text if text.endswith("\n") else text + "\n")
        sys.stderr.flush()


def warn(sentences: tuple[str, ...]) -> None:
    """Say warnings on stderr, wrapped to the terminal."""
    from rotasolve.views.words.layout import wrap

    for said in sentences:
        talk("\n".join(wrap(f"Note: {said}", look_of_terminal(sys.stderr).text_width, "", "  ")))


def is_terminal(stream: TextIO) -> bool:
    """Return whether a person looks at, or types into, a stream."""
    try:
        return stream.isatty()
    except (AttributeError, ValueError):
        return False


def can_rewrite(stream: TextIO) -> bool:
    """Return whether a line on a stream can be written over."""
    return is_terminal(stream) and os.environ.get("TERM") != "dumb"


def look_of_terminal(stream: TextIO | None = None, inches: bool = False) -> Look:
    """Return how a page is to look on a stream. Default: stdout."""
    from rotasolve.views.words.look import Look

    stream = stream or sys.stdout
    # COLUMNS goes before what the terminal says; without either it is 80.
    width = max(_NARROWEST, min(_WIDEST, shutil.get_terminal_size((80, 24)).columns))
    encoding = (getattr(stream, "encoding", None) or "ascii").lower().replace("-", "").replace("_", "")
    colour = can_rewrite(stream) and not os.environ.get("NO_COLOR")
    return Look(width=width, plain=not encoding.startswith("utf"), inches=inches, bold=colour)
