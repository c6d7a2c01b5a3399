"""``rotasolve begin``: a first scenario from a few plain questions."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import may_write
from rotasolve.cli.options import Force
from rotasolve.cli.terminal import is_terminal, talk, warn

if TYPE_CHECKING:
    from rotasolve.files.first_scenario import Answers

HELP = """Write a first scenario from a few answers, with comments that say how to go on.

Examples:

\b
  rotasolve begin garden.yaml
  rotasolve begin garden.yaml --latitude 52.5 --last-frost "5 May"
      --first-frost "15 October" --bed "bed 1,4 m,1.2 m" --bed "bed 2,4 m,1.2 m"
      --crop potato,20 --crop carrot,5

Questions are asked only for what no option answers, and only on a terminal.
"""


@guarded
def begin(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The scenario file to write.", show_default=False)],
    title: Annotated[str | None, typer.Option(metavar="TEXT", help="What the garden is called.")] = None,
    latitude: Annotated[
        str | None, typer.Option(metavar="DEGREES", help="Degrees, south of the equator negative.")
    ] = None,
    last_frost: Annotated[
        str | None, typer.Option(metavar="DAY", help="Average last frost in spring, such as '5 May'.")
    ] = None,
    first_frost: Annotated[
        str | None, typer.Option(metavar="DAY", help="Average first frost in autumn, such as '15 October'.")
    ] = None,
    first_year: Annotated[str | None, typer.Option(metavar="YEAR", help="The first year to plan.")] = None,
    years: Annotated[str | None, typer.Option(metavar="NUMBER", help="How many years to plan, 1 to 10.")] = None,
    people: Annotated[str | None, typer.Option(metavar="NUMBER", help="How many people eat from the garden.")] = None,
    bed: Annotated[
        list[str] | None,
        typer.Option(metavar="TEXT", help="A bed: 'name,length,width[,runs[,cover]]'; several times for several."),
    ] = None,
    crop: Annotated[
        list[str] | None,
        typer.Option(metavar="TEXT", help="A crop with the kg wished a year: 'name,kg'; several times for several."),
    ] = None,
    yes: Annotated[
        bool, typer.Option("--yes", "-y", help="Ask nothing; take the proposal where there is one.")
    ] = False,
    force: Force = False,
) -> int:
    """Write a first scenario."""
    replace = may_write(file, force)

    from rotasolve.cli.interview import Interview
    from rotasolve.files.crops import load_catalogue
    from rotasolve.files.files import write_text
    from rotasolve.files.first_scenario import scenario_text
    from rotasolve.files.scenarios import read_scenario, read_scenario_text, warnings_of

    catalogue = load_catalogue()
    interview = Interview(catalogue, asks=not yes and is_terminal(sys.stdin) and is_terminal(sys.stderr))
    given = {
        "title": title,
        "latitude": latitude,
        "last_frost": last_frost,
        "first_frost": first_frost,
        "first_year": first_year,
        "years": years,
        "people": people,
    }
    answers = interview.answers(given, bed or [], crop or [])
    if answers is None:
        talk("\n".join([*interview.troubles, "Nothing was written."]))
        return exit_codes.COULD_NOT_RUN
    text = scenario_text(answers)
    # Read before it is written: what cannot be read must not replace a file.
    read_scenario_text(text, str(file), catalogue)
    write_text(text, file, overwrite=replace)
    warn(warnings_of(read_scenario(file, catalogue), catalogue))
    _say_next(file, answers)
    return exit_codes.FINE


def _say_next(file: Path, answers: Answers) -> None:
    from rotasolve.views.words.wording import say_count

    held = f"{say_count(len(answers.beds), 'bed')}, {say_count(len(answers.crops), 'crop')}"
    talk(
        f"Written: {file} ({held}). Open it in a text editor to add what grew where before.\n"
        f"Then: rotasolve check {file}\n      rotasolve plan {file}"
    )
