"""``rotasolve scenarios``: the worked examples that come along, to look at, to plan, or to copy and change."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import may_write, shipped_scenarios
from rotasolve.cli.options import AsJson, Force
from rotasolve.cli.terminal import answer, answer_json, look_of_terminal, talk
from rotasolve.errors import FileTrouble

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

HELP = """List the worked examples that come along, print one, or copy one to change it.

Examples:

\b
  rotasolve scenarios
  rotasolve scenarios family-garden
  rotasolve scenarios family-garden --copy garden.yaml
"""


@guarded
def scenarios(
    name: Annotated[str | None, typer.Argument(metavar="NAME", help="An example.", show_default=False)] = None,
    copy: Annotated[Path | None, typer.Option(metavar="FILE", help="Write the example to this file.")] = None,
    json: AsJson = False,
    force: Force = False,
) -> int:
    """List, print or copy worked examples."""
    from rotasolve.files.files import read_text, write_text
    from rotasolve.files.wording import did_you_mean
    from rotasolve.views.exports.as_json import SCHEMA_VERSION
    from rotasolve.views.words.layout import wrap

    shipped = shipped_scenarios()
    if name is None:
        if copy is not None:
            raise typer.BadParameter("--copy needs the name of an example before it")
        told = {each: _first_comment(file) for each, file in sorted(shipped.items())}
        if json:
            listed = [{"name": each, "about": about} for each, about in told.items()]
            answer_json({"schema_version": SCHEMA_VERSION, "scenarios": listed})
            return exit_codes.FINE
        look = look_of_terminal()
        for each, about in told.items():
            answer("\n".join([each, *wrap(about, look.text_width, "  ")]))
        return exit_codes.FINE
    found = shipped.get(name.removesuffix(".yaml"))
    if found is None:
        hint = did_you_mean(name, shipped) or f"there are: {', '.join(sorted(shipped))}"
        raise FileTrouble(f"there is no example '{name}'; {hint}")
    text = read_text(found)
    if copy is not None:
        write_text(text, copy, overwrite=may_write(copy, force))
        talk(f"Written: {copy}. Check it with: rotasolve check {copy}")
    if json:
        answer_json({"schema_version": SCHEMA_VERSION, "name": name, "text": text})
    elif copy is None:
        answer(text)
    return exit_codes.FINE


def _first_comment(file: Traversable) -> str:
    from rotasolve.files.files import read_text

    for line in read_text(file).splitlines():
        if line.startswith("#"):
            return line.lstrip("# ").rstrip()
    return ""
