"""``rotasolve resow``: what may still be started on ground that has become free."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import find_crop, known_bed, read_day
from rotasolve.cli.options import AsJson, OwnCrops, ScenarioArgument
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal, warn
from rotasolve.errors import GardenFault

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from rotasolve.cli.case import Case
    from rotasolve.domain.chance import Chance
    from rotasolve.domain.plan import Plan

HELP = """Say what may still be started in a bed after a crop failed or was cleared, until when, and what it gives.

Examples:

\b
  rotasolve resow garden.yaml "gate bed" --on "1 July 2027"
  rotasolve resow garden.yaml "gate bed" --strip 3 --strip 4
      --plan garden.plan.json --crop "bush bean"

With --plan what the plan has on those strips later is planted around, and its plantings that stand there on that day
count as gone. Crops are those of the scenario; --crop adds others. Exit status 1: nothing can be started.
"""


@guarded
def resow(
    scenario: ScenarioArgument,
    bed: Annotated[str, typer.Argument(metavar="BED", help="The bed with free ground.", show_default=False)],
    strip: Annotated[
        list[int] | None, typer.Option(metavar="NUMBER", help="This strip only; may be given several times.")
    ] = None,
    on: Annotated[str, typer.Option(metavar="DAY", help="From this day on. Default: today.")] = "today",
    plan: Annotated[Path | None, typer.Option(metavar="PLAN", help="Beside the plantings of this plan file.")] = None,
    crop: Annotated[list[str] | None, typer.Option(metavar="NAME", help="This crop as well.")] = None,
    every: Annotated[bool, typer.Option("--all", help="Show every chance.")] = False,
    own_crops: OwnCrops = None,
    json: AsJson = False,
) -> int:
    """Find crops for free ground."""
    case = read_case(scenario, own_crops)
    day = read_day(on, "--on", case.scenario.begins)
    name = known_bed(bed, case.scenario)
    crops = [find_crop(word, case.catalogue) for word in crop or ()]
    written = case.with_plan(plan) if plan is not None else None

    from rotasolve.views.answers.resow_page import resow_answer, resow_page

    strips = _strips(case, name, strip or ())
    found = chances_on(case, written.plan if written is not None else None, name, strips, day, crops)
    if json:
        answer_json(resow_answer(found, name, strips, day))
    else:
        answer_page(resow_page(found, name, strips, day, look_of_terminal(codes=every), every), every, "--all")
    warn(written.warnings if written is not None else ())
    return exit_codes.FINE if any(not one.hindrances for one in found) else exit_codes.FOUND


def _strips(case: Case, bed: str, given: Sequence[int]) -> tuple[int, ...]:
    from rotasolve.relations.ground.plantings import strips_of

    every = strips_of(next(one for one in case.scenario.beds if one.name == bed))
    unknown = [number for number in given if number not in every]
    if unknown:
        raise GardenFault(f"{bed} has the strips 1 to {every[-1]}, not {unknown[0]}")
    return tuple(sorted(set(given))) or every


def chances_on(
    case: Case, plan: Plan | None, bed: str, strips: tuple[int, ...], day: date, crops: Sequence[str]
) -> tuple[Chance, ...]:
    """Return what may be started on some strips from a day on; what stands there then in the plan counts as gone."""
    from rotasolve.referee import blank_plan
    from rotasolve.tasks.resowing import chances_to_resow

    standing = plan.plantings if plan is not None else ()
    left = tuple(
        one
        for one in standing
        if one.bed != bed or not set(one.strips) & set(strips) or not one.start <= day <= one.clear
    )
    beside = blank_plan(case.scenario, left)
    return chances_to_resow(case.scenario, case.catalogue, beside, bed, day, strips, crops)
