"""The arguments and options that several commands share."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Annotated

import typer

from rotasolve.cli.help_groups import SHARED

ScenarioArgument = Annotated[
    str,
    typer.Argument(
        metavar="SCENARIO",
        help="A scenario file, or the name of a shipped one; not needed before a plan that knows its own.",
        show_default=False,
    ),
]
PlanArgument = Annotated[
    Path, typer.Argument(metavar="PLAN", help="A plan file that 'plan -o' has written.", show_default=False)
]
OwnCrops = Annotated[
    list[Path] | None,
    typer.Option(
        "--own-crops",
        metavar="FILE",
        help="A crop file of your own; may be given several times.",
        rich_help_panel=SHARED,
    ),
]
DiaryOption = Annotated[
    Path | None,
    typer.Option("--diary", metavar="FILE", help="The diary; if not given, garden.diary.txt beside garden.yaml."),
]
AsJson = Annotated[bool, typer.Option("--json", help="Answer in JSON.", rich_help_panel=SHARED)]
Inches = Annotated[bool, typer.Option("--inches", help="Say lengths in inches and feet.", rich_help_panel=SHARED)]
Details = Annotated[
    bool, typer.Option("--details", help="Show all of it, with points and the codes of rules.", rich_help_panel=SHARED)
]
Whole = Annotated[bool, typer.Option("--details", help="Show all of it, however long.", rich_help_panel=SHARED)]
Quiet = Annotated[
    bool, typer.Option("--quiet", "-q", help="Say nothing but the answer and errors.", rich_help_panel=SHARED)
]
Force = Annotated[
    bool, typer.Option("--force", help="Replace a file that is there already, without asking.", rich_help_panel=SHARED)
]


Effort = Annotated[
    float | None,
    typer.Option(min=0.1, metavar="UNITS", help="Limit the work instead of the time: the same answer on every run."),
]
Seed = Annotated[int, typer.Option(min=0, max=2**31 - 1, metavar="NUMBER", help="Where the search begins.")]


def refuse_odd_limits(seconds: float | None, effort: float | None) -> None:
    """Refuse, as a bad parameter, a search that is limited twice, or by no finite number."""
    if seconds is not None and effort is not None:
        raise typer.BadParameter("give either --seconds or --effort, not both")
    if any(limit is not None and not math.isfinite(limit) for limit in (seconds, effort)):
        raise typer.BadParameter("the limit must be a finite number")
