"""What one plan brings, and loses, more than another, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.views.words.titles import title_of
from rotasolve.views.words.wording import say_count, say_kg

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.comparison import GoalPoints
    from rotasolve.domain.moves import CropKg


def say_harvest_between(harvest: Sequence[CropKg]) -> str:
    """Say what a usual year brings more of each crop, and what less."""
    more = [f"{say_kg(each.kg)} more {each.crop}" for each in harvest if each.kg > 0]
    less = [f"{say_kg(-each.kg)} less {each.crop}" for each in reversed(harvest) if each.kg < 0]
    return f"in usual years it brings {', '.join([*more, *less])}" if harvest else "it brings as much of each crop"


def say_points_between(points: Sequence[GoalPoints]) -> str:
    """Say how many points more or fewer are lost, in all and by goal."""
    if not points:
        return "it loses as many points"
    total = sum(goal.more for goal in points)
    each = ", ".join(f"{title_of(goal.goal)} {_more(goal.more)}" for goal in points)
    in_all = f"{say_count(abs(total), 'point')} {'more' if total > 0 else 'fewer'}" if total else "as many points"
    return f"it loses {in_all} ({each})"


def _more(points: int) -> str:
    return f"{abs(points):,} {'more' if points > 0 else 'fewer'}"
