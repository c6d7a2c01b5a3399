"""The arguments and options that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

ScenarioArgument = Annotated[
    str, typer.Argument(metavar="SCENARIO", help="A scenario file, or the name of a shipped one.", show_default=False)
]
PlanArgument = Annotated[
    Path, typer.Argument(metavar="PLAN", help="A plan file that 'plan -o' has written.", show_default=False)
]
OwnCrops = Annotated[
    list[Path] | None,
    typer.Option("--own-crops", metavar="FILE", help="A crop file of your own; may be given several times."),
]
AsJson = Annotated[bool, typer.Option("--json", help="Answer in JSON.")]
Inches = Annotated[bool, typer.Option("--inches", help="Say lengths in inches and feet.")]
Quiet = Annotated[bool, typer.Option("--quiet", "-q", help="Say nothing but the answer and errors.")]
Force = Annotated[bool, typer.Option("--force", help="Replace a file that is there already, without asking.")]


def refuse_two_limits(seconds: float | None, effort: float | None) -> None:
    """Refuse a search that is limited twice.

    Raises
    ------
    typer.BadParameter
        If both limits are given.
    """
    if seconds is not None and effort is not None:
        raise typer.BadParameter("give either --seconds or --effort, not both")
