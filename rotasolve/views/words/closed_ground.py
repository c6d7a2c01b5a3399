"""Closed ground in words: which crops stay off which beds, why, and for how long."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_day, say_year
from rotasolve.domain.strips import say_strips
from rotasolve.views.words.wording import clean, say_crop

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rotasolve.domain.closed_ground import ClosedGround
    from rotasolve.domain.scenario import Scenario


def say_closed(scenario: Scenario, closed: Iterable[ClosedGround]) -> Iterator[str]:
    """Say where crops stay away because of a disease, which beds are closed to all, and what rest is not over."""
    by_group: dict[str, list[ClosedGround]] = {}
    for one in closed:
        by_group.setdefault(one.group, []).append(one)
    for disease, where in by_group.items():
        if where[0].disease:
            named = ", ".join(say_crop(crop, scenario.words) for crop in where[0].crops)
            yield f"Because of {disease} no {named}: {'; '.join(_say_where(scenario, where, 'up to and with '))}."
    for bed in scenario.closed:
        until = f" to {say_day(bed.until)}" if bed.until else ", with no end told"
        yield f"Nothing at all in {clean(bed.bed)} from {say_day(bed.since)}{until}."
    resting = [
        f"{family} in {' and '.join(_say_where(scenario, where, ''))}"
        for family, where in by_group.items()
        if not where[0].disease
    ]
    if resting:
        yield f"Rest that is not over, with the last year of it: {'; '.join(resting)}."


def _say_where(scenario: Scenario, closed: list[ClosedGround], before: str) -> Iterator[str]:
    """Say beds that are free again at the same time together, the soonest first and those closed for good last."""
    by_end: dict[int | None, list[str]] = {}
    for one in sorted(closed, key=lambda one: (one.up_to is None, one.up_to or 0)):
        ground = f"{clean(one.bed)} ({say_strips(one.strips)})" if one.strips else clean(one.bed)
        by_end.setdefault(one.up_to, []).append(ground)
    for end, grounds in by_end.items():
        until = "for good" if end is None else f"{before}{say_year(end, scenario.site.south)}"
        yield f"{', '.join(grounds)} {until}"
