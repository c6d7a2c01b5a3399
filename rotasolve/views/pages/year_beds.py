"""The beds of one garden year, a line a bed: its crops in the order in which they take the ground, with their days."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import year_end, year_start
from rotasolve.views.words.layout import columns_of, cut, pad
from rotasolve.views.words.wording import clean, say_short

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario
    from rotasolve.views.words.look import Look

_WIDEST_NAME = 20
_FEW_BEDS = 10
"""With no more beds than these each may take a second line."""


def year_beds(scenario: Scenario, plan: Plan, year: int, look: Look, most: int) -> list[str]:
    """Return at most ``most`` lines, of which the last says how many beds are left out, if some are."""
    names = list(dict.fromkeys([bed.name for bed in scenario.beds] + [planting.bed for planting in plan.plantings]))
    shown = names if len(names) <= most else names[: most - 1]
    label = min(_WIDEST_NAME, max(columns_of(clean(name)) for name in names))
    each = 2 if len(shown) <= _FEW_BEDS and 2 * len(shown) <= most else 1
    lines = []
    for name in shown:
        told = _fill(_stays(scenario, plan, name, year, look), look.width - label - 2, each)
        head = pad(cut(clean(name), label), label)
        lines += [f"{head}  {told[0]}", *(" " * (label + 2) + more for more in told[1:])]
    if len(names) > len(shown):
        lines.append(f"and {len(names) - len(shown)} more beds")
    return lines


def _stays(scenario: Scenario, plan: Plan, bed: str, year: int, look: Look) -> list[str]:
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


def _fill(texts: Sequence[str], width: int, lines: int) -> list[str]:
    """Return the texts on so many lines at the most, with the number of those for which there is no room."""
    if not texts:
        return ["free all year"]
    found, left = [""], list(texts)
    while left:
        last = len(found) == lines
        comma = ", " if found[-1] else ""
        joined = f"{found[-1]}{comma}{left[0]}"
        tail = f", +{len(left) - 1} more" if last and len(left) > 1 else "," if len(left) > 1 else ""
        if columns_of(joined + tail) <= width or not found[-1]:
            found[-1] = cut(joined, width)
            left.pop(0)
        elif last:
            found[-1] += f", +{len(left)} more"
            break
        else:
            found[-1] += ","
            found.append("")
    return found
