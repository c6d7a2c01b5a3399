"""Little shade: crops take little sun from other beds.

What it asks
    Each strip of another placed bed that a planting takes all sun from for a half month in the months of high sun
    (April to September, in the south October to March) loses 1 point, and in proportion: the share of the clear-sky
    beam that the bed loses to a neighbour of that height, times its strips, times the share of its own bed that the
    planting takes. Bare beds count like planted ones, seen from their ground. Each planting is charged in steps of 5
    points: what low crops take, and what tells one bed from the next by less, leaves the search free.
Why
    A bed 1.5 m higher at 50 cm takes about a fifth of the beam of its east or west neighbour, which no order of
    heights forbids, and up to a third from the equator side. Beam, not hours: low sun is long but weak. Potatoes bore
    12 and 26 % of shade, not 50 % (Schulz and others 2019, Agronomy 9(6):330, abstract).
Loosen it
    ``rules: {least_sun: false}`` leaves all sun out of account; any target outweighs it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Facts
from rotasolve.domain.plan import GoalScore
from rotasolve.domain.seasons import last_day, period_of
from rotasolve.domain.strips import strips_in_bed
from rotasolve.recount.ground import cut_of
from rotasolve.recount.heights import height_on

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Choice, Garden
    from rotasolve.relations.sun.pair_losses import PairLoss

POINTS = 1
STEP = 5
"""Points that a planting is charged in. Charged to the point, no two beds are alike to the solvers, and the plan of a
garden of 18 beds lost a fifth more points after the same effort, nearly all of them to other goals."""


@dataclass
class _Known:
    """What choices have in common: sums by bed, crop and days; heights by crop and days; tables by bed and month."""

    whole: dict[tuple[str, str, date, date, date], int] = field(default_factory=dict)
    heights: dict[tuple[str, date, date, date], list[tuple[int, int]]] = field(default_factory=dict)
    others: dict[tuple[str, int], PairLoss] = field(default_factory=dict)


def _goal_is_on(garden: Garden) -> bool:
    scenario = garden.scenario
    return bool(scenario.rules.least_sun) and sum(bed.is_placed for bed in scenario.beds) > 1


def _points_of(garden: Garden, choice: Choice, known: _Known) -> int:
    """Return the points that a choice loses; what beds and crops have in common is worked out once and kept."""
    course, start = choice.sowing.course, choice.sowing.start
    standing = (choice.sowing.crop, start, course.first_harvest or course.clear, course.clear)
    if (choice.bed, *standing) not in known.whole:
        if standing not in known.heights:
            known.heights[standing] = _heights(garden, *standing)
        known.whole[choice.bed, *standing] = sum(
            _thousandths(garden, choice.bed, month, known).thousandths_at(height)
            for month, height in known.heights[standing]
        )
    strips = strips_in_bed(garden.beds[choice.bed])
    return STEP * round(POINTS * known.whole[choice.bed, *standing] * choice.block.strips / strips / 1000 / STEP)


def _heights(garden: Garden, crop: str, start: date, ready: date, clear: date) -> list[tuple[int, int]]:
    """Return (month, height in cm) of a crop in each half month in which it stands and shade is judged."""
    from rotasolve.relations.ground.grown import casting_height_cm
    from rotasolve.relations.sun.bed_sun import judged, month_of

    return [
        (month_of(period), round(casting_height_cm(garden.crops[crop], start, ready, period)))
        for period in range(period_of(start), period_of(clear) + 1)
        if judged(period, garden.scenario.site.south)
    ]


def _thousandths(garden: Garden, caster: str, month: int, known: _Known) -> PairLoss:
    """Return the thousandths of a strip that all other beds together lose to a caster, by the height of its crop."""
    from rotasolve.relations.sun.pair_losses import PairLoss, pair_loss

    if (caster, month) not in known.others:
        latitude = garden.scenario.site.latitude
        losses = [
            [each * strips_in_bed(bed) for each in pair_loss(garden.beds[caster], bed, latitude, month).thousandths]
            for bed in garden.scenario.beds
            if bed.name != caster
        ]
        known.others[caster, month] = PairLoss((), tuple(map(sum, zip(*losses, strict=True))))
    return known.others[caster, month]


def _taken_by(garden: Garden, planting: Planting) -> int:
    """Return the points a planting loses, worked out from its days and strips: the tables of lost sun alone are shared.

    Each month of high sun in which it stands is taken half by half, each half with the height on its last day.
    """
    from rotasolve.relations.sun.pair_losses import pair_loss

    scenario, crop, caster = garden.scenario, garden.crops[planting.crop], garden.beds[planting.bed]
    high_sun = (10, 11, 12, 1, 2, 3) if scenario.site.latitude < 0 else (4, 5, 6, 7, 8, 9)
    whole, day = 0, planting.start
    while day <= planting.clear:
        end = last_day(period_of(day))
        height = round(height_on(crop, planting.start, planting.first_harvest or planting.clear, end))
        for bed in scenario.beds if day.month in high_sun else ():
            if bed.name != caster.name:
                loss = pair_loss(caster, bed, scenario.site.latitude, day.month)
                whole += loss.thousandths_at(height) * cut_of(bed).strips
        day = end + timedelta(days=1)
    return STEP * round(POINTS * whole * len(planting.strips) / cut_of(caster).strips / 1000 / STEP)


@dataclass(frozen=True)
class ShadeCounted(Facts):
    """Whether the sun taken from other beds is counted at all."""

    is_counted: bool


class LittleShade:
    """Sun for the neighbours."""

    key = "little-shade"
    reached = ShadeCounted

    def cost(self, garden: Garden, board: Board) -> None:
        """Charge each planting with what it takes from other beds: no variable of its own is needed."""
        if not _goal_is_on(garden):
            return
        known = _Known()
        for number, choice in enumerate(garden.choices):
            board.lose(_points_of(garden, choice, known), number)

    def score(self, garden: Garden, plan: Plan) -> GoalScore:
        """Recount from the plantings' dates and strips."""
        is_on = _goal_is_on(garden)
        lost = sum(_taken_by(garden, planting) for planting in plan.plantings) if is_on else 0
        return GoalScore(goal=self.key, lost=lost, reached=ShadeCounted(is_on))
