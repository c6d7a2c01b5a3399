"""The beds of one garden year, a line a bed: its crops in the order in which they take the ground, with their days."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.views.words.bed_stays import said_in_bed
from rotasolve.views.words.layout import columns_of, cut, pad
from rotasolve.views.words.wording import clean

if TYPE_CHECKING:
    from collections.abc import Sequence

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
        told = _fill(said_in_bed(scenario, plan, name, year, look), look.width - label - 2, each)
        head = pad(cut(clean(name), label), label)
        lines += [f"{head}  {told[0]}", *(" " * (label + 2) + more for more in told[1:])]
    if len(names) > len(shown):
        lines.append(f"and {len(names) - len(shown)} more beds")
    return lines


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
