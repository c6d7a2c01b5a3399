"""A plan on its first screen: what is had of the wishes, what is missing and why, the beds, how good it is, what next.

Points, maps and how it was searched stand on the whole page (``views/pages/page``).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from rotasolve.domain.missed import NEARLY_ALL
from rotasolve.domain.seasons import say_year
from rotasolve.views.pages.editing import say_no_standing
from rotasolve.views.pages.year_beds import year_beds
from rotasolve.views.words.layout import Column, heading, table, wrap
from rotasolve.views.words.missed import say_missed
from rotasolve.views.words.screen import LINES
from rotasolve.views.words.verdict import say_verdict
from rotasolve.views.words.wording import clean, kg_number, say_count, say_kg, say_number, say_share

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.missed import Missed
    from rotasolve.domain.plan import Plan, Standing, TargetOutcome
    from rotasolve.domain.scenario import Scenario
    from rotasolve.views.words.look import Look

_MOST_YEARS = 5
"""With more years than these columns would not fit: the poorest and the best year stand for all."""
_FEWEST_ROWS = 3


class Names(NamedTuple):
    """What the reader calls the scenario and the plan's file; None if the plan was not written."""

    scenario: str
    plan: str | None


def first_screen(
    scenario: Scenario, catalogue: Catalogue, plan: Plan, missed: Sequence[Missed], names: Names, look: Look
) -> str:
    """Return a plan's first screen, of at most ``LINES`` lines on 80 columns."""
    south, year = scenario.site.south, plan.first_year
    head = [*heading(clean(plan.scenario_title), look, "="), *wrap(_say_size(scenario, plan), look.text_width)]
    end = ["", *heading("How good it is", look), *_goodness(plan, look)]
    end += ["", *heading("What next", look), *_next_steps(names, missed, look), *_cautions(plan, catalogue, look)]
    beds_title = ["", *heading(f"The beds in {say_year(year, south)}", look)]
    why = [line for said in say_missed(missed, look) for line in wrap(f"- {said}", look.text_width, "", "  ")]
    # What is left of the screen is shared: beds first, for they are what is taken outside.
    room = LINES - len(head) - len(end) - len(beds_title)
    wishes_least = 10 if plan.targets else 0
    beds = year_beds(scenario, plan, year, look, max(4, room - wishes_least))
    got = _wishes(plan, why, look, room - len(beds)) if plan.targets else []
    return "\n".join([*head, *got, *beds_title, *beds, *end]) + "\n"


def _say_size(scenario: Scenario, plan: Plan) -> str:
    south = scenario.site.south
    first, last = say_year(plan.first_year, south), say_year(plan.first_year + plan.years - 1, south)
    years = first if plan.years == 1 else f"{first} to {last}"
    return f"{years}, {say_count(len(scenario.beds), 'bed')}, {say_count(len(plan.plantings), 'planting')}."


def _wishes(plan: Plan, why: list[str], look: Look, room: int) -> list[str]:
    """Return what is had of the wishes in no more than ``room`` lines: in full, then what misses most, and why."""
    by_crop: dict[str, list[TargetOutcome]] = {}
    for outcome in plan.targets:
        by_crop.setdefault(outcome.crop, []).append(outcome)
    short = {crop: years for crop, years in by_crop.items() if min(map(_share, years)) < NEARLY_ALL}
    full = [crop for crop in by_crop if crop not in short]
    poor = any(outcome.met_at == "low yield" for outcome in plan.targets)
    lines = ["", *heading(f"What you get of what you wish, in a {'poor' if poor else 'usual'} year", look)]
    if full:
        said = f"In full every year ({len(full)} of {len(by_crop)} crops): {', '.join(full)}."
        lines += wrap(said, look.text_width)
    gaps = [f"{crop} {_say_months(by_crop[crop])}" for crop in full if _months(by_crop[crop])[0]]
    if gaps:
        lines += wrap(f"Not to be picked in every month wished: {', '.join(gaps)}.", look.text_width)
    if not short:
        return lines
    most_why = max(0, room - len(lines) - _FEWEST_ROWS - 4)
    why = ["Why:", *why[:most_why]] if why and most_why else []
    rows = max(_FEWEST_ROWS, room - len(lines) - len(why) - 4)
    ordered = sorted(short.items(), key=lambda item: min(map(_share, item[1])))
    told = _short_table(ordered[:rows], look)
    if len(told) > rows + 2:  # names too long for their column: fewer of them
        told = _short_table(ordered[: max(1, rows - (len(told) - rows - 2))], look)
    lines += told
    if len(ordered) > rows:
        lines.append(_rest([crop for crop, _ in ordered[rows:]], look.text_width))
    return [*lines, *why]


def _rest(crops: Sequence[str], width: int) -> str:
    """Say on one line which crops are had in part as well; as many as there is room for."""
    for count in range(len(crops), 0, -1):
        more = f" and {len(crops) - count} more" if count < len(crops) else ""
        said = f"In part as well: {', '.join(crops[:count])}{more}."
        if len(said) <= width:
            return said
    return f"In part as well: {len(crops)} more."


def _short_table(short: Sequence[tuple[str, list[TargetOutcome]]], look: Look) -> list[str]:
    years = [outcome.year for outcome in short[0][1]]
    fresh = any(outcome.fresh_half_months_wanted for _, outcomes in short for outcome in outcomes)
    if len(years) > _MOST_YEARS:
        columns = [Column("Least", number=True), Column("Most", number=True)]
    else:
        columns = [Column(str(year), number=True) for year in years]
    columns = [Column("In part"), Column("Wished", number=True), *columns]
    columns += [Column("To pick in the months wished")] if fresh else []
    return table(columns, [_short_row(crop, outcomes, fresh) for crop, outcomes in short], look)


def _months(outcomes: Sequence[TargetOutcome]) -> tuple[float, float]:
    """Return the months in which a crop wished fresh is not there, and those in which it is wished."""
    wanted = sum(outcome.fresh_half_months_wanted for outcome in outcomes)
    return (wanted - sum(outcome.fresh_half_months for outcome in outcomes)) / 2, wanted / 2


def _say_months(outcomes: Sequence[TargetOutcome]) -> str:
    missing, wanted = _months(outcomes)
    return f"{say_number(wanted - missing)} of {say_number(wanted)} months" if wanted else ""


def _short_row(crop: str, outcomes: Sequence[TargetOutcome], fresh: bool) -> tuple[str, ...]:
    got = [outcome.counted_kg for outcome in outcomes]
    shown = got if len(got) <= _MOST_YEARS else [min(got), max(got)]
    kilograms = max(outcome.wanted_kg for outcome in outcomes)
    return (crop, say_kg(kilograms), *map(kg_number, shown), *([_say_months(outcomes)] if fresh else []))


def _share(outcome: TargetOutcome) -> float:
    return outcome.counted_kg / outcome.wanted_kg if outcome.wanted_kg else 1.0


def _goodness(plan: Plan, look: Look) -> list[str]:
    lines = wrap(say_verdict(plan), look.text_width)
    if plan.standing is not None:
        lines += wrap(say_how_near(plan.standing), look.text_width)
    elif said := say_no_standing(plan):
        lines += wrap(said, look.text_width)
    return lines


def say_how_near(standing: Standing) -> str:
    """Say without points how near a plan is to the best one."""
    if standing.outcome == "proven best":
        return "No better plan is possible with the start days and planting sizes that were tried."
    avoidable = (standing.lost - standing.at_least_lost) / max(1, standing.lost)
    return (
        f"Of what it falls short of your wishes, at most {say_share(avoidable)} could be made good by a better plan; "
        "a longer search (--seconds) may find some of it."
    )


def _next_steps(names: Names, missed: Sequence[Missed], look: Look) -> list[str]:
    if names.plan is None:
        steps = [(f"rotasolve plan {names.scenario} -o garden.plan.json", "keep the plan")]
        plan = "garden.plan.json"
    else:
        steps, plan = [], names.plan
    both = f"{names.scenario} {plan}"
    steps += [
        (f"rotasolve show {both}", "a year's beds"),
        (f"rotasolve calendar {both}", "what to do"),
        (f"rotasolve report {both} -o garden.html", "to print"),
    ]
    if missed:
        steps.append((f"rotasolve shortfall {both} {_quoted(missed[0].crop)}", "what would help"))
    widest = max(len(command) for command, _ in steps)
    lines = []
    for command, what in steps:
        if widest + 2 + max(len(what) for _, what in steps) <= look.text_width:
            lines.append(f"{command:<{widest}}  {what}")
        else:
            lines.append(command if len(command) <= look.text_width else "\n".join(wrap(command, look.text_width)))
    return [line for text in lines for line in text.split("\n")]


def _quoted(crop: str) -> str:
    return f'"{crop}"' if " " in crop else crop


def _cautions(plan: Plan, catalogue: Catalogue, look: Look) -> list[str]:
    planted = {planting.crop for planting in plan.plantings}
    told = [crop.name for crop in catalogue.crops if crop.name in planted and crop.cautions]
    some = f" on {', '.join(told[:4])}{f' and {len(told) - 4} more' if len(told) > 4 else ''}" if told else ""
    said = f"Read the cautions{some} before you grow, keep or eat it: --details. Yields and frost dates are averages."
    return wrap(said, look.text_width)
