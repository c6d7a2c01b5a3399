"""``rotasolve where``: where a crop can go, why not elsewhere, and the smallest change that makes room."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import find_crop, may_write, read_day
from rotasolve.cli.options import AsJson, Force, Inches, OwnCrops, ScenarioArgument
from rotasolve.cli.room import answer_room
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal, talk, warn

if TYPE_CHECKING:
    from rotasolve.cli.case import Case, PlanCase
    from rotasolve.domain.place import Question
    from rotasolve.views.words.look import Look

HELP = """Say where a crop can go, best place first, and why not elsewhere.

Examples:

\b
  rotasolve where garden.yaml "sweet pepper" --plants 6
  rotasolve where garden.yaml kale --on "1 August 2027" --plan garden.plan.json
  rotasolve where garden.yaml kale --plants 20 --year 2028
      --plan garden.plan.json --move -o new.plan.json

Without --plan only what the scenario fixes and what grew before counts. --move shows up to three ways to make room, the
smallest change of the plan first, with what each costs; what is in the ground by --today stays there. Exit status 1:
there is no place, or no way.
"""
_WAYS = ("set out", "sown in place")
_DAY = "1 June 2027, 1 June, 1/6/2027 or next Monday"


Plants = Annotated[
    int | None,
    typer.Option(min=1, max=100_000, metavar="NUMBER", help="So many plants; as many as fit if left out."),
]
Beside = Annotated[Path | None, typer.Option("--plan", metavar="PLAN", help="Beside the plantings of this plan file.")]
Move = Annotated[bool, typer.Option("--move", help="Make room by changing the fewest plantings of the plan.")]
Today = Annotated[
    str | None, typer.Option(metavar="DAY", help="With --move: what is started by this day stays. Default: today.")
]
Take = Annotated[
    int | None,
    typer.Option(min=1, max=3, metavar="NUMBER", help="With --move and -o: write this way; the first if not given."),
]
Changed = Annotated[
    Path | None, typer.Option("--output", "-o", metavar="FILE", help="With --move: write the changed plan here.")
]


@guarded
def where(
    scenario: ScenarioArgument,
    crop: Annotated[str, typer.Argument(metavar="CROP", help="The crop to find a place for.", show_default=False)],
    plants: Plants = None,
    on: Annotated[str | None, typer.Option(metavar="DAY", help=f"Started on this day: {_DAY}.")] = None,
    year: Annotated[int | None, typer.Option(metavar="YEAR", help="Started in this garden year.")] = None,
    way: Annotated[str | None, typer.Option(metavar="WAY", help="'set out' or 'sown in place' only.")] = None,
    plan: Beside = None,
    move: Move = False,
    today: Today = None,
    output: Changed = None,
    take: Take = None,
    every: Annotated[bool, typer.Option("--all", help="Show every place and every reason.")] = False,
    own_crops: OwnCrops = None,
    json: AsJson = False,
    force: Force = False,
    inches: Inches = False,
) -> int:
    """Find places for a crop, or make one."""
    if move and plan is None:
        raise typer.BadParameter("--move changes a plan: give the plan with --plan")
    if not move and (output is not None or today is not None):
        raise typer.BadParameter(f"{'-o' if output is not None else '--today'} goes with --move only; add --move")
    if take is not None and output is None:
        raise typer.BadParameter("--take says which way is written: give the file with --move and -o")
    if move and every:
        raise typer.BadParameter("--all lists places and --move shows one change; leave one of them out")
    replace = may_write(output, force, Path(scenario)) if output is not None else False
    case = read_case(scenario, own_crops)
    question = _question(case, crop, plants, on, year, way)
    written = case.with_plan(plan) if plan is not None else None
    look = None if json else look_of_terminal(inches=inches, codes=every)
    if move and written is not None:
        day = read_day(today or "today", "--today")
        status = answer_room(written, question, day, look, output, replace, take or 1)
    else:
        status = _answer_places(case, question, written, look, every)
    warn(written.warnings if written is not None else ())
    return status


def _answer_places(case: Case, question: Question, written: PlanCase | None, look: Look | None, every: bool) -> int:
    """Find places, answer on a page, or in JSON if ``look`` is None, and return the exit status."""
    from rotasolve.tasks.placement import find_places
    from rotasolve.views.answers.place_page import places_page
    from rotasolve.views.answers.question_answers import places_answer

    found = find_places(case.scenario, case.catalogue, question, written.plan if written is not None else None)
    if look is None:
        answer_json(places_answer(found, scenario_matches=written is None or written.matches))
    else:
        beside = written is not None
        page = places_page(case.scenario, case.catalogue, found, look, beside_plan=beside, every=every)
        answer_page(page, every, "--all")
        if beside and not found.places:
            talk("Add --move to see the smallest change of the plan that makes room.")
    return exit_codes.FINE if found.places else exit_codes.FOUND


def _question(case: Case, crop: str, plants: int | None, on: str | None, year: int | None, way: str | None) -> Question:
    """Return the question, after a check of what a grower may have mistyped."""
    from rotasolve.domain.place import Question

    if on is not None and year is not None:
        raise typer.BadParameter("give either --on for one day or --year for a whole year, not both")
    if way is not None and way not in _WAYS:
        raise typer.BadParameter(f"--way is {' or '.join(repr(known) for known in _WAYS)}, not {way!r}")
    day = None if on is None else read_day(on, "--on", case.scenario.begins)
    name = find_crop(crop, case.catalogue, case.scenario.words)
    told = {
        "crop": name,
        "plants": plants,
        "on": day,
        "year": year,
        "way": way,
    }
    return Question.model_validate(told)
