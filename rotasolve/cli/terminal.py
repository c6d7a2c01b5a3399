"""The terminal: answers go to stdout, talk to stderr; how wide it is and which signs it can show."""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import sys
from typing import TYPE_CHECKING, Any, TextIO

from rotasolve.domain.signs import for_terminal, shortened

if TYPE_CHECKING:
    from rotasolve.views.words.look import Look

_WIDEST = 160
_NARROWEST = 20


def prepare_streams() -> bool:
    """Make sure that no letter a stream cannot show ends the program; return whether an answer can be given at all.

    Streams closed before the start are opened on nothing: else the first file opened would take their place, and get
    what is meant for them.
    """
    can_answer = sys.stdout is not None
    for number, name, mode in ((0, "stdin", "r"), (1, "stdout", "w"), (2, "stderr", "w")):
        if getattr(sys, name) is None:
            with contextlib.suppress(OSError):
                nothing = os.open(os.devnull, os.O_RDWR)
                setattr(sys, name, os.fdopen(nothing, mode, encoding="utf-8", closefd=nothing != number))
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(AttributeError, ValueError, OSError):
            stream.reconfigure(errors="replace")  # type: ignore[union-attr]
    return can_answer


def answer(text: str) -> None:
    """Write an answer to stdout; what names and texts of the user's would do to a terminal is taken out."""
    text = for_terminal(text, bold=can_rewrite(sys.stdout))
    sys.stdout.write(text if text.endswith("\n") else text + "\n")
    sys.stdout.flush()


def answer_page(text: str, whole: bool, option: str = "--details") -> None:
    """Write a page to stdout, of a long one no more than a screen unless all of it was asked for with ``option``."""
    from rotasolve.views.words.screen import on_one_screen

    answer(text if whole else on_one_screen(text, look_of_terminal().text_width, f"{option} shows all"))


def answer_file(text: str) -> None:
    """Write a whole file to stdout in UTF-8, whatever letters a terminal could show."""
    sys.stdout.flush()
    sys.stdout.buffer.write(text.encode("utf-8"))
    sys.stdout.buffer.flush()


def answer_json(value: dict[str, Any]) -> None:
    """Write an answer to stdout as one JSON document, in ASCII bytes so that every reader gets it whole.

    It begins with the version of what answers hold, whether a command thought of it or not.
    """
    from rotasolve.views.exports.as_json import SCHEMA_VERSION

    value = {"schema_version": SCHEMA_VERSION, **value}
    answer_file(json.dumps(value, indent=1, ensure_ascii=True, allow_nan=False) + "\n")


def talk(text: str) -> None:
    """Say something beside the answer, on stderr. Nobody listening there is no reason to stop."""
    text = "\n".join(shortened(line) for line in for_terminal(text).split("\n"))
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


def look_of_terminal(stream: TextIO | None = None, inches: bool = False, codes: bool = False) -> Look:
    """Return how a page is to look on a stream. Default: stdout."""
    from rotasolve.views.words.look import Look

    stream = stream or sys.stdout
    # COLUMNS goes before what the terminal says; without either it is 80.
    width = max(_NARROWEST, min(_WIDEST, shutil.get_terminal_size((80, 24)).columns))
    encoding = (getattr(stream, "encoding", None) or "ascii").lower().replace("-", "").replace("_", "")
    colour = can_rewrite(stream) and not os.environ.get("NO_COLOR")
    return Look(width=width, plain=not encoding.startswith("utf"), inches=inches, bold=colour, codes=codes)
