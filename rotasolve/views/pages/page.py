"""A plan on whole screens."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_year
from rotasolve.relations.ground.crop_shares import crop_shares
from rotasolve.views.pages.bed_map import bed_map, legend
from rotasolve.views.pages.editing import say_no_standing
from rotasolve.views.pages.planting_table import planting_table, plantings_of_year
from rotasolve.views.pages.target_table import target_table
from rotasolve.views.pages.year_beds import year_beds
from rotasolve.views.words.cautions import caution_list
from rotasolve.views.words.layout import heading, wrap
from rotasolve.views.words.reasons import reason_list
from rotasolve.views.words.standing import goal_table, say_standing
from rotasolve.views.words.verdict import say_verdict
from rotasolve.views.words.wording import clean, say_count

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.crop_share import CropShare
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.domain.scenario import Scenario
    from rotasolve.views.words.look import Look

_MOST_BEDS = 100
"""As many beds as a garden may have."""


def plan_page(
    scenario: Scenario,
    catalogue: Catalogue,
    plan: Plan,
    look: Look,
    years: Sequence[int] = (),
    beds: Sequence[str] = (),
) -> str:
    """Return a plan as text.

    Parameters
    ----------
    years
        Garden years to show. Default: all of the plan, and any other in which something is started.
    beds
        Beds to show. Default: all.
    """
    south = scenario.site.south
    shown_years = list(years) or sorted(
        {*scenario.planned_years, *(max(p.begins_in(south), plan.first_year) for p in plan.plantings)}
    )
    # Beds the scenario does not know have no map, but what a file says of them is not hidden.
    shown_beds = list(beds) or list(
        dict.fromkeys([bed.name for bed in scenario.beds] + [planting.bed for planting in plan.plantings])
    )
    lines = heading(clean(plan.scenario_title), look, "=")
    lines += wrap(
        f"{say_count(len(plan.plantings), 'planting')} in {say_count(scenario.years, 'year')} "
        f"from {say_year(scenario.first_year, south)}, {say_count(len(scenario.beds), 'bed')}",
        look.width,
    )
    lines += ["", *legend(look, south)]
    shares = crop_shares(plan.plantings, scenario, catalogue)
    for year in shown_years:
        lines += _year(scenario, plan, shares, year, shown_beds, look)
    if any(outcome.got.typical_kg < outcome.wanted_kg for outcome in plan.targets if outcome.year in shown_years):
        hint = "Some targets are missed: 'rotasolve shortfall SCENARIO PLAN' says what holds them back."
        lines += ["", *wrap(hint, look.text_width)]
    if plan.goals:
        lines += ["", *heading("Points lost (fewer is better)", look), *goal_table(plan.goals, look)]
    if plan.verdict.breaches:
        count = say_count(len(plan.verdict.breaches), "rule is")
        lines += ["", *heading(f"{count} broken", look), *reason_list(plan.verdict.breaches, look)]
    if plan.standing is not None:
        lines += ["", *heading("How good the plan is", look), *say_standing(plan.standing, look)]
    if said := say_no_standing(plan):
        lines += ["", *heading("How good the plan is", look), *wrap(said, look.text_width)]
    lines += ["", *heading("Please note", look), *caution_list(plan, catalogue, scenario, look)]
    return "\n".join(lines) + "\n"


def year_page(
    scenario: Scenario,
    catalogue: Catalogue,
    plan: Plan,
    look: Look,
    years: Sequence[int],
    beds: Sequence[str] = (),
) -> str:
    """Return some years of a plan in short: their beds a line each, or of the beds asked for maps and plantings."""
    south = scenario.site.south
    lines = heading(clean(plan.scenario_title), look, "=")
    if beds:
        lines += ["", *legend(look, south)]
        shares = crop_shares(plan.plantings, scenario, catalogue)
    for year in years:
        if beds:
            lines += _year(scenario, plan, shares, year, beds, look, targets=False)
            continue
        said = say_year(year, south)
        lines += ["", *heading(f"The beds in {said}", look), *year_beds(scenario, plan, year, look, _MOST_BEDS)]
        if targets := target_table(scenario, plan, year, look):
            lines += ["", *heading(f"Harvest of {said} from all beds, beside what you wish", look), *targets]
    if plan.verdict.breaches:
        lines += ["", *wrap(f"{say_verdict(plan)} 'rotasolve referee' names them.", look.text_width)]
    if said := say_no_standing(plan):
        lines += ["", *wrap(said, look.text_width)]
    hint = "Each bed on a map: --bed NAME. " if not beds else ""
    lines += ["", *wrap(f"{hint}Every year, points and cautions: --details.", look.text_width)]
    return "\n".join(lines) + "\n"


def _year(
    scenario: Scenario,
    plan: Plan,
    shares: Mapping[Planting, CropShare],
    year: int,
    beds: Sequence[str],
    look: Look,
    *,
    targets: bool = True,
) -> list[str]:
    south = scenario.site.south
    said = say_year(year, south)
    lines = ["", *heading(said, look, "=")]
    for bed in scenario.beds:
        if bed.name in beds:
            lines += ["", *bed_map(scenario, plan, bed, year, look)]
    plantings = plantings_of_year(plan, year, south, beds)
    before = any(planting.begins_in(south) < year for planting in plantings)
    begun = f"Plantings begun in {said}{', and what stands there from before' if before else ''}"
    lines += ["", *heading(begun, look, "-")]
    lines += planting_table(plantings, shares, year, south, look) or ["none"]
    if targets and (wished := target_table(scenario, plan, year, look)):
        lines += ["", *heading(f"Harvest of {said} from all beds, beside what you wish", look, "-"), *wished]
    return lines
