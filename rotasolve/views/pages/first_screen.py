"""A plan on its first screen: what is had of the wishes, what is missing and why, the beds, how good it is, what next.

Points, maps and how it was searched stand on the whole page (``views/pages/page``).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from rotasolve.domain.seasons import say_year
from rotasolve.views.pages.editing import say_no_standing
from rotasolve.views.pages.year_beds import year_beds
from rotasolve.views.words.got import got_of, say_how_near
from rotasolve.views.words.layout import heading, table, wrap
from rotasolve.views.words.missed import say_missed
from rotasolve.views.words.screen import LINES
from rotasolve.views.words.verdict import say_verdict
from rotasolve.views.words.wording import clean, say_count, say_number

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.missed import Missed
    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario
    from rotasolve.domain.sun import LowSun
    from rotasolve.views.words.look import Look

_FEWEST_ROWS = 3
_MOST_LOW = 4


class Names(NamedTuple):
    """What the reader calls the scenario and the plan's file; None if the plan was not written."""

    scenario: str
    plan: str | None


def first_screen(
    scenario: Scenario,
    catalogue: Catalogue,
    plan: Plan,
    missed: Sequence[Missed],
    names: Names,
    look: Look,
    low: Sequence[LowSun] = (),
) -> str:
    """Return a plan's first screen, of at most ``LINES`` lines on 80 columns; ``low`` are crops with little sun."""
    south, year = scenario.site.south, plan.first_year
    head = [*heading(clean(plan.scenario_title), look, "="), *wrap(say_size(scenario, plan), look.text_width)]
    end = ["", *heading("How good it is", look), *_goodness(plan, look), *_say_low(low, look)]
    end += ["", *heading("What next", look), *_next_steps(names, missed, look), *_cautions(plan, catalogue, look)]
    beds_title = ["", *heading(f"The beds in {say_year(year, south)}", look)]
    why = [
        line
        for said in say_missed(missed, scenario.words, look)
        for line in wrap(f"- {said}", look.text_width, "", "  ")
    ]
    # What is left of the screen is shared: beds first, for they are what is taken outside.
    room = LINES - len(head) - len(end) - len(beds_title)
    wishes_least = 10 if plan.targets else 0
    beds = year_beds(scenario, plan, year, look, max(4, room - wishes_least))
    got = _wishes(scenario, plan, why, look, room - len(beds)) if plan.targets else []
    return "\n".join([*head, *got, *beds_title, *beds, *end]) + "\n"


def say_size(scenario: Scenario, plan: Plan) -> str:
    """Say a plan's years, beds and plantings."""
    south = scenario.site.south
    first, last = say_year(plan.first_year, south), say_year(plan.first_year + plan.years - 1, south)
    years = first if plan.years == 1 else f"{first} to {last}"
    return f"{years}, {say_count(len(scenario.beds), 'bed')}, {say_count(len(plan.plantings), 'planting')}."


def _wishes(scenario: Scenario, plan: Plan, why: list[str], look: Look, room: int) -> list[str]:
    """Return what is had of the wishes in no more than ``room`` lines: in full, then what misses most, and why."""
    got = got_of(plan, scenario.words)
    lines = ["", *heading(got.title, look)]
    for said in got.told:
        lines += wrap(said, look.text_width)
    if not got.rows:
        return lines
    most_why = max(0, room - len(lines) - _FEWEST_ROWS - 4)
    why = ["Why:", *why[:most_why]] if why and most_why else []
    rows = max(_FEWEST_ROWS, room - len(lines) - len(why) - 3)
    told = table(got.columns, got.rows[:rows], look)
    while rows > 1 and len(told) > room - len(lines) - len(why) - 1:  # headings and long names take lines as well
        rows -= 1
        told = table(got.columns, got.rows[:rows], look)
    lines += told
    if len(got.rows) > rows:
        lines.append(_rest([row[0] for row in got.rows[rows:]], look.text_width))
    return [*lines, *why]


def _rest(crops: Sequence[str], width: int) -> str:
    """Say on one line which crops are had in part as well; as many as there is room for."""
    for count in range(len(crops), 0, -1):
        more = f" and {len(crops) - count} more" if count < len(crops) else ""
        said = f"In part as well: {', '.join(crops[:count])}{more}."
        if len(said) <= width:
            return said
    return f"In part as well: {len(crops)} more."


def _goodness(plan: Plan, look: Look) -> list[str]:
    lines = wrap(say_verdict(plan), look.text_width)
    if plan.standing is not None:
        lines += wrap(say_how_near(plan.standing), look.text_width)
    elif said := say_no_standing(plan):
        lines += wrap(said, look.text_width)
    return lines


def _say_low(low: Sequence[LowSun], look: Look) -> list[str]:
    if not low:
        return []
    told = [
        f"{one.crop} in {one.bed} ({say_number(one.hours)} of {say_number(one.wanted)} h)" for one in low[:_MOST_LOW]
    ]
    more = f" and {len(low) - _MOST_LOW} more" if len(low) > _MOST_LOW else ""
    return wrap(f"In less sun than they like, hours a day: {', '.join(told)}{more}.", look.text_width)


def _next_steps(names: Names, missed: Sequence[Missed], look: Look) -> list[str]:
    if names.plan is None:
        steps = [(f"rotasolve plan {names.scenario} -o garden.plan.json", "keep the plan")]
        plan = "garden.plan.json"
    else:
        steps, plan = [], names.plan
    # A plan file knows its scenario.
    steps += [
        (f"rotasolve show {plan}", "a year's beds"),
        (f"rotasolve calendar {plan}", "what to do"),
        (f"rotasolve report {plan} -o garden.html", "to print"),
    ]
    if missed:
        steps.append((f"rotasolve shortfall {plan} {_quoted(missed[0].crop)}", "what would help"))
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
