"""All that stands in a bed in a garden year on a line: crop after crop with its days."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import year_end, year_start
from rotasolve.views.words.wording import clean, say_short

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario
    from rotasolve.views.words.look import Look


def said_in_bed(scenario: Scenario, plan: Plan, bed: str, year: int, look: Look) -> list[str]:
    """Return each crop with its days; what came before the year has no first day, what goes on no last one."""
    start, end = year_start(year, scenario.site.south), year_end(year, scenario.site.south)
    found: dict[tuple[date, date, str], None] = {}
    for past in scenario.history:
        if past.bed == bed and past.until is not None and year == scenario.first_year and past.until >= start:
            found[start, past.until, past.crop] = None
    for one in plan.plantings:
        if one.bed == bed and one.start <= end and one.clear >= start:
            # Two blocks of one start are one line here; how they lie is what ``show --bed`` draws.
            found[max(one.start, start), one.clear, one.crop] = None
    told = []
    for first, last, crop in sorted(found):
        if first == start and last > end:
            days = "all year"
        elif first == start:
            days = f"to {_day(last)}"
        else:
            days = f"from {_day(first)}" if last > end else f"{_day(first)}{look.dash}{_day(last)}"
        told.append(f"{clean(crop)} {days}")
    return told


def _day(day: date) -> str:
    name, month = say_short(day).split(" ")
    return f"{name} {month[:3]}"
