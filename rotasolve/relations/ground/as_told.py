"""A planting as it really was: as the plan has it, but for what a diary tells otherwise."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.relations.ground.following import followed

if TYPE_CHECKING:
    from rotasolve.domain.plan import Planting
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.ground.happened import Happened


def as_told(garden: Garden, one: Happened) -> Planting:
    """Return a planting with the days and plants that a diary tells; where it is silent the plan has happened.

    A crop started on another day is cleared when it is ripe from that day on, unless its clearing is told too. Plants
    that failed are taken off; of a crop that failed altogether the plants stay, and its ground is free from that day.
    """
    planting, plants = one.planting, one.planting.plants - one.lost_plants
    start, ended = one.started or planting.start, one.ended
    if not one.lost_plants and (start, ended or planting.clear) == (planting.start, planting.clear):
        return planting
    if not plants and ended is None:
        ended = one.of("failed")[-1].day
    told = planting.model_copy(
        update={"start": start, "plants": plants or planting.plants, "clear": max(start, ended or planting.clear)}
    )
    ripens = ended is None and start != planting.start
    return followed(garden, told, frozenset({"clear"}) if ripens else frozenset())
