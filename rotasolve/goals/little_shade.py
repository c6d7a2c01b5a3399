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

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Facts
from rotasolve.domain.plan import GoalScore
from rotasolve.domain.seasons import last_day, period_of
from rotasolve.domain.strips import strips_in_bed
from rotasolve.recount.ground import cut_of
from rotasolve.recount.heights import height_on

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import date

    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Choice, Garden

POINTS = 1
STEP = 5
"""Points that a planting is charged in. Charged to the point, no two beds are alike to the solvers, and the plan of a
garden of 18 beds lost a fifth more points after the same effort, nearly all of them to other goals."""


def _goal_is_on(garden: Garden) -> bool:
    scenario = garden.scenario
    return bool(scenario.rules.least_sun) and sum(bed.is_placed for bed in scenario.beds) > 1


class _Taken:
    """What crops at full stand in each bed would take from all others, worked out once for each month and height."""

    def __init__(self, garden: Garden) -> None:
        self._garden = garden
        self._others: dict[tuple[str, int, int], int] = {}
        self._whole: dict[tuple[str, str, date, date, date], int] = {}

    def points(self, choice: Choice) -> int:
        """Return the points that a choice loses."""
        course, start = choice.sowing.course, choice.sowing.start
        key = (choice.sowing.crop, choice.bed, start, course.first_harvest or course.clear, course.clear)
        if key not in self._whole:
            self._whole[key] = sum(self._by_half_month(*key))
        whole, strips = self._whole[key], strips_in_bed(self._garden.beds[choice.bed])
        return STEP * round(POINTS * whole * choice.block.strips / strips / 1000 / STEP)

    def _by_half_month(self, crop: str, bed: str, start: date, ready: date, clear: date) -> Iterator[int]:
        from rotasolve.relations.ground.grown import casting_height_cm
        from rotasolve.relations.sun.bed_sun import judged, month_of

        for period in range(period_of(start), period_of(clear) + 1):
            if judged(period, self._garden.scenario.site.south):
                height = round(casting_height_cm(self._garden.crops[crop], start, ready, period))
                yield self._thousandths(bed, month_of(period), height)

    def _thousandths(self, caster: str, month: int, height: int) -> int:
        """Return the thousandths of a strip that other beds lose to a caster full of a crop of a height in cm."""
        from rotasolve.relations.sun.pair_losses import pair_loss

        key = (caster, month, height)
        if key not in self._others:
            beds, latitude = self._garden.beds, self._garden.scenario.site.latitude
            self._others[key] = sum(
                pair_loss(beds[caster], bed, latitude, month).thousandths_at(height) * strips_in_bed(bed)
                for bed in beds.values()
                if bed.name != caster
            )
        return self._others[key]


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
        taken = _Taken(garden)
        for number, choice in enumerate(garden.choices):
            board.lose(taken.points(choice), number)

    def score(self, garden: Garden, plan: Plan) -> GoalScore:
        """Recount from the plantings' dates and strips."""
        is_on = _goal_is_on(garden)
        lost = sum(_taken_by(garden, planting) for planting in plan.plantings) if is_on else 0
        return GoalScore(goal=self.key, lost=lost, reached=ShadeCounted(is_on))
