"""``rotasolve help``: pages to read about a topic."""

from __future__ import annotations

import importlib.resources
from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.guard import guarded
from rotasolve.cli.options import AsJson
from rotasolve.cli.terminal import answer, answer_json, look_of_terminal
from rotasolve.errors import FileTrouble

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

HELP = """Show a page about a topic; without a topic, the list of them.

Examples:

\b
  rotasolve help
  rotasolve help scenario
  rotasolve help words
"""
_SUFFIX = ".md"


@guarded
def help_page(
    topic: Annotated[str | None, typer.Argument(metavar="[TOPIC]", help="The topic.", show_default=False)] = None,
    json: AsJson = False,
) -> int:
    """Show a page, or list the topics."""
    from rotasolve.files.files import read_text
    from rotasolve.files.wording import did_you_mean
    from rotasolve.views.words.layout import wrap

    pages = {name: read_text(file) for name, file in sorted(_pages().items())}
    if topic is None:
        if json:
            answer_json({"topics": {name: _title(text) for name, text in pages.items()}})
            return exit_codes.FINE
        widest = max(map(len, pages))
        width = look_of_terminal().text_width
        for name, text in pages.items():
            answer("\n".join(wrap(_title(text), width, f"{name.ljust(widest)}  ", " " * (widest + 2))))
        return exit_codes.FINE
    name = topic.strip().casefold()
    if name not in pages:
        hint = did_you_mean(name, pages) or f"topics: {', '.join(pages)}"
        raise FileTrouble(f"there is no page about '{topic}'; {hint}; 'rotasolve COMMAND --help' explains a command")
    if json:
        answer_json({"topic": name, "text": pages[name]})
    else:
        answer(pages[name])
    return exit_codes.FINE


def _title(text: str) -> str:
    return text.partition("\n")[0].lstrip("# ")


def _pages() -> dict[str, Traversable]:
    folder = importlib.resources.files("rotasolve") / "help"
    return {file.name.removesuffix(_SUFFIX): file for file in folder.iterdir() if file.name.endswith(_SUFFIX)}
