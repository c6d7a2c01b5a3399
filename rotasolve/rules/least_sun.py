"""Least sun: no crop stands on ground with less direct sun than it can do with.

What it asks
    In the months of high sun (April to September, in the south October to March) every strip a crop stands on gets at
    least the crop's ``sun_hours_least`` (its low figure) of direct sun on a clear day, past walls, fences, hedges,
    trees and sheds. Beds without a place are judged only if ``sun_hours`` are typed in.
Why
    Fruiting crops want 6 to 8 hours, roots, beans and cabbages 4 to 6, leaves as little as 2 (GILLMAN); Penn State
    Extension calls 6 hours full sun and less than 2 shade. These are rules of thumb for the growing season.
Breaks it
    Tomatoes (6 h) in a strip that a 2 m fence on its equator side leaves 3 hours in April.
Loosen it
    ``rules: {least_sun: false}``, a smaller ``sun_hours_least`` in a crop file of your own, or ``sun_hours`` of the
    bed as you have counted them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.claim import Claim, Facts
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Breach
from rotasolve.domain.seasons import first_day
from rotasolve.relations.sun.sun_need import half_months_of, least_minutes, least_sun_is_on

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Garden


@dataclass(frozen=True)
class SunClaim(Claim):
    """Every crop in a bed has its least sun past the obstacles."""

    rule = "least-sun"
    bed: str


@dataclass(frozen=True)
class DarkStrip(Facts):
    """A strip gets too little sun in a month (1 to 12) for the crop that stands there."""

    crop: str
    need_hours: float
    strip: int
    gets_hours: float
    month: int


@dataclass(frozen=True)
class DarkStrips(Facts):
    """Strips get too little sun for a planting: the darkest of them so much in a month (1 to 12)."""

    strips: tuple[int, ...]
    gets_hours: float
    month: int
    need_hours: float


class LeastSun:
    """Enough sun for every crop."""

    key = SunClaim.rule
    holds_inside_a_bed = True

    def post(self, garden: Garden, board: Board) -> None:
        """Keep crops off strips too dark for them."""
        if not least_sun_is_on(garden):
            return
        from rotasolve.relations.sun.bed_sun import known_beds

        for bed in known_beds(garden.scenario):
            with board.because(SunClaim(bed.name)):
                self._post_ground(garden, board, bed.name)

    @staticmethod
    def _post_ground(garden: Garden, board: Board, name: str) -> None:
        """Bar dark strips; where strips are counted, bound those that a crop takes by those bright enough."""
        from rotasolve.relations.sun.bed_sun import judged, month_of, strip_minutes

        bed, south = garden.beds[name], garden.scenario.site.south
        for cell in [cell for cell in garden.cells if cell.bed == name]:
            for period in [p for p in board.periods_of((cell,)) if judged(p, south)]:
                minutes = strip_minutes(garden.scenario, bed, month_of(period))
                here = {n: least_minutes(garden, board.crop_of(n)) for n in board.on_cell(cell, period)}
                for least in sorted({need for need in here.values() if need > min(minutes)}):
                    wanting = frozenset(n for n, need in here.items() if need >= least)
                    if cell.strip == 0:
                        bright = sum(light >= least for light in minutes)
                        board.at_most(board.ground_terms(cell, period, wanting), bright)
                    elif minutes[cell.strip - 1] < least:
                        board.never(sorted(n for n, need in here.items() if need == least))

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Look up the sun of every strip of every planting, month by month."""
        if not least_sun_is_on(garden):
            return
        from rotasolve.relations.sun.bed_sun import strip_minutes

        high_sun = {10, 11, 12, 1, 2, 3} if garden.scenario.site.latitude < 0 else {4, 5, 6, 7, 8, 9}
        for planting in plan.plantings:
            figure = garden.crops[planting.crop].sun_hours_least
            if figure is None or not garden.beds[planting.bed].has_known_sun:
                continue
            need, bed = figure.least * 60, garden.beds[planting.bed]
            sunny = [period for period in half_months_of(planting) if first_day(period).month in high_sun]
            found = []
            for period in sunny:
                light = strip_minutes(garden.scenario, bed, first_day(period).month)
                # A plan may name strips that the bed does not have: that is for free-ground to tell.
                found += [(light[s - 1], first_day(period).month, s) for s in planting.strips if 0 < s <= len(light)]
            darkest = min(found, default=None)
            if darkest is not None and darkest[0] < round(need):
                dark = DarkStrip(planting.crop, need / 60, darkest[2], darkest[0] / 60, darkest[1])
                yield Breach(SunClaim(bed.name), dark, (planting,))

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Bar strips too dark for the planting."""
        need, bed = least_minutes(garden, planting.crop), garden.beds[planting.bed]
        if not need or not bed.has_known_sun or not least_sun_is_on(garden):
            return
        from rotasolve.relations.sun.bed_sun import judged, strip_minutes

        dark: dict[int, tuple[int, int]] = {}
        south = garden.scenario.site.south
        for month in sorted({first_day(p).month for p in half_months_of(planting) if judged(p, south)}):
            light = strip_minutes(garden.scenario, bed, month)
            for strip in planting.strips:
                if light[strip - 1] < need:
                    dark[strip] = min(dark.get(strip, (light[strip - 1], month)), (light[strip - 1], month))
        if dark:
            least, month = min(dark.values())
            barred = tuple(sorted(dark))
            yield Hindrance(SunClaim(bed.name), DarkStrips(barred, least / 60, month, need / 60), barred)
