"""``rotasolve yields``: what the diary weighed, and yields of the garden's own."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import find_scenario, may_write, own_scenario, read_day, write_and_say
from rotasolve.cli.options import AsJson, DiaryOption, Force, OwnCrops, PlanArgument, ScenarioArgument, Whole
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal, talk, warn
from rotasolve.cli.told import diary_if_any
from rotasolve.errors import FileTrouble

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.ground.weighings import Weighing

HELP = """Say what the diary weighed beside what the published yields give, and let it count.

Examples:

\b
  rotasolve yields garden.yaml garden.plan.json
  rotasolve yields garden.yaml garden.plan.json --use
  rotasolve yields garden.yaml garden.plan.json --use -o next.yaml

The plan says which plants were weighed. --use writes each crop and year whose picking is over under 'weighed' of the
scenario: from then on plans count your own yields, and say so. Nothing is ever counted without that.
"""


@guarded
def yields(
    scenario: ScenarioArgument,
    plan: PlanArgument,
    diary: DiaryOption = None,
    use: Annotated[bool, typer.Option("--use", help="Write what was weighed into the scenario.")] = False,
    output: Annotated[
        Path | None, typer.Option("--output", "-o", metavar="FILE", help="With --use: write a new scenario.")
    ] = None,
    today: Annotated[
        str | None, typer.Option(metavar="DAY", help="Pickings that end by this day count. Default: today.")
    ] = None,
    own_crops: OwnCrops = None,
    details: Whole = False,
    json: AsJson = False,
    force: Force = False,
) -> int:
    """Compare what was weighed with what is published."""
    if output is not None and not use:
        raise typer.BadParameter("-o goes with --use only; add it")
    day = read_day(today or "today", "--today")
    case = read_case(scenario, own_crops).with_plan(plan)
    read = diary_if_any(case, scenario, diary)
    if read is None:
        raise FileTrouble("there is no diary beside the scenario; give it with --diary, or enter what you weigh first")

    from rotasolve.relations.ground.weighings import weighings_of
    from rotasolve.views.pages.yields_page import yields_page

    found = weighings_of(case.scenario, case.plan, read.diary, day)
    known = {(one.crop, one.year) for one in case.scenario.weighed}
    new = [one for one in found if one.counts and (one.crop, one.year) not in known]
    then = case.scenario.model_copy(update={"weighed": (*case.scenario.weighed, *(one.record() for one in new))})
    if use and new:
        _write(scenario, output, case.catalogue, new, force)
    if json:
        answer_json(_json(found, then))
    else:
        answer_page(yields_page(case.scenario, found, then, look_of_terminal()), details)
        if new and not use:
            talk("Add --use to let it count.")
    warn(case.warnings)
    return exit_codes.FINE


def _write(scenario: str, output: Path | None, catalogue: Catalogue, new: list[Weighing], force: bool) -> None:
    from rotasolve.files.files import read_text
    from rotasolve.files.scenario_additions import with_records

    file = find_scenario(scenario)
    target = output if output is not None else own_scenario(scenario)
    text = with_records(read_text(file), str(file), catalogue, [one.record() for one in new], "weighed")
    write_and_say(text, target, may_write(target, force))


def _json(found: tuple[Weighing, ...], then: Scenario) -> dict[str, object]:
    from dataclasses import asdict

    from rotasolve.relations.season.own_yields import own_yields

    return {
        "weighed": [{**asdict(one), "counts": one.counts} for one in found],
        "yields": [asdict(own) for own in own_yields(then.weighed).values()],
    }
