"""What may still be started on free ground, and what a disease seen in a bed means, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_day, say_year
from rotasolve.views.words.wording import TIED, say_count, say_kg, sentence

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rotasolve.domain.chance import Chance, DiseaseCost

_NEAREST = 5
"""Shares are said to the nearest 5 %: the figures behind them are no better."""


def say_chance(chance: Chance) -> str:
    """Say a chance: ``bush bean: sown in place until 10 July 2027; about 85 % of a full crop, 60 % at the end``."""
    planting = chance.planting
    raised = ", with plants bought or at hand," if planting.raise_from is not None else ""
    until = f"until {say_day(chance.last)}" if chance.last > planting.start else f"on {say_day(chance.last)}"
    give = "gives" if planting.plants == 1 else "give"
    kg = f"; {say_count(planting.plants, 'plant')} {give} {say_kg(planting.harvest.typical_kg)}"
    picked = f", picked from {say_day(planting.first_harvest)}" if planting.first_harvest is not None else ""
    end = "" if chance.percent_last >= chance.percent else f", {_share(chance.percent_last)} at the end"
    return (
        f"{planting.crop}: {planting.way}{raised} from {say_day(planting.start)} {until}; "
        f"about {_share(chance.percent)} of a full crop{end}{kg}{picked}"
    )


def _share(percent: int) -> str:
    return f"{round(percent / _NEAREST) * _NEAREST}{TIED}%"


def say_disease(cost: DiseaseCost, south: bool) -> Iterator[str]:
    """Say for how long hosts stay away from a bed, and what of a plan is lost by that; a sentence each."""
    hosts = ", ".join(cost.hosts) or "none of your crops"
    if cost.closes:
        yield sentence(f"{cost.disease} keeps {cost.bed} closed to its hosts for good: {hosts}")
    else:
        again = "" if cost.again is None else f", so not before {say_year(cost.again, south)}"
        years = say_count(cost.gap_years, "complete year")
        yield sentence(f"{cost.disease} keeps its hosts away from {cost.bed} for {years}{again}: {hosts}")
    if cost.lost:
        lost = "; ".join(f"{one.crop} of {say_day(one.start)} ({say_kg(one.harvest.typical_kg)})" for one in cost.lost)
        points = f"; without them it loses {say_count(cost.points, 'point')} more" if cost.points > 0 else ""
        yield sentence(f"the plan loses {say_count(len(cost.lost), 'planting')} there: {lost}{points}")
