"""The least direct sun of a place where a crop could go, past the obstacles and the crops of other beds."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import period_of
from rotasolve.domain.sun import PlaceSun
from rotasolve.relations.ground.grown import tallest_standing

if TYPE_CHECKING:
    from rotasolve.domain.plan import Planting
    from rotasolve.relations.ground.garden import Garden


@dataclass(frozen=True)
class SunBeside:
    """The sun of places beside the plantings of a plan; what has been worked out is kept for the next place."""

    garden: Garden
    plantings: tuple[Planting, ...]
    _tallest: dict[int, dict[str, int]] = field(default_factory=dict, repr=False)
    _left: dict[tuple[str, int], tuple[int, ...]] = field(default_factory=dict, repr=False)

    def least(self, planting: Planting) -> PlaceSun | None:
        """Return the least sun of a planting's strips while it stands in the months of high sun.

        None if nothing is known of the bed's sun, or it stands in winter only. What other beds take is the sum of
        ``relations.pair_losses``, so the hours are never overstated; crops in the same bed are not counted.
        """
        bed = self.garden.beds[planting.bed]
        if not bed.has_known_sun:
            return None
        # Not above: numpy takes long to load, and most gardens do not place their beds.
        from rotasolve.relations.sun.bed_sun import judged, month_of

        found = []
        for period in range(period_of(planting.start), period_of(planting.clear) + 1):
            if judged(period, self.garden.scenario.site.south):
                left = self._minutes_left(bed.name, period)
                mean = sum(left[strip - 1] for strip in planting.strips) / len(planting.strips)
                found.append((mean, month_of(period)))
        if not found:
            return None
        minutes, month = min(found)
        return PlaceSun(hours=round(max(minutes, 0) / 60, 2), month=month)

    def _minutes_left(self, name: str, period: int) -> tuple[int, ...]:
        """Return the minutes a day left to each strip of a bed in a half month."""
        from rotasolve.relations.sun.bed_sun import month_of, strip_minutes
        from rotasolve.relations.sun.pair_losses import pair_loss

        if period not in self._tallest:
            self._tallest[period] = tallest_standing(self.garden.crops, self.plantings, period)
        if (name, period) not in self._left:
            beds, scenario, month = self.garden.beds, self.garden.scenario, month_of(period)
            taken = sum(
                pair_loss(beds[other], beds[name], scenario.site.latitude, month).minutes_at(high)
                for other, high in self._tallest[period].items()
                if other != name
            )
            light = strip_minutes(scenario, beds[name], month)
            self._left[name, period] = tuple(minutes - taken for minutes in light)
        return self._left[name, period]
