"""What may still be started on ground that has become free, until when, and how much of a full crop it gives."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.chance import Chance
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.ground.plantings import planting_of
from rotasolve.relations.ground.sowings import sowings_by_clearing
from rotasolve.relations.season.growing import growing
from rotasolve.relations.season.start_shares import percent_of_start
from rotasolve.relations.season.windows import windows_near
from rotasolve.rules import RULES

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from datetime import date

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.crop import Start
    from rotasolve.domain.hindrance import Hindrance
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.ground.garden import Garden

SOON_DAYS = 42
"""A window that opens within so many days is told of as well: ground need not wait longer for its next crop (a
judgement)."""


def chances_to_resow(
    scenario: Scenario,
    catalogue: Catalogue,
    plan: Plan,
    bed: str,
    day: date,
    strips: Iterable[int],
    crops: Iterable[str] = (),
) -> tuple[Chance, ...]:
    """Return the crops and ways that may be started on some strips of a bed from a day on, the best share first.

    Parameters
    ----------
    plan
        What stands beside them, and before and after on the same strips; what failed is to be left out of it.
    bed, strips
        The ground that is free.
    day
        From this day on; windows that open later than in six weeks are left out.
    crops
        Beside those that the scenario wishes or allows.

    Returns
    -------
    tuple of Chance
        Those that no rule stands against first. What a planting gives there counts its clearing before whatever the
        plan starts next on the same strips.
    """
    known = {crop.name for crop in catalogue.crops}
    asked = ({planting.crop for planting in plan.plantings} | set(crops)) & known
    allowed = (*scenario.also_allowed, *sorted(asked - set(scenario.also_allowed)))
    garden = make_garden(scenario.model_copy(update={"also_allowed": allowed}), catalogue, exact=True)
    ground = tuple(sorted(set(strips)))
    found = (
        chance
        for name in sorted(garden.wanted)
        if not garden.crops[name].green_manure and garden.room_for(name, bed, ground)
        for start in garden.crops[name].starts
        for chance in _chance(garden, plan, bed, ground, day, name, start)
    )
    best: dict[tuple[str, str], Chance] = {}
    for chance in sorted(found, key=lambda one: (bool(one.hindrances), -one.percent, one.planting.crop)):
        best.setdefault((chance.planting.crop, chance.planting.way), chance)
    return tuple(best.values())


def _chance(
    garden: Garden, plan: Plan, bed: str, strips: tuple[int, ...], day: date, name: str, start: Start
) -> Iterator[Chance]:
    crop, cover, site = garden.crops[name], garden.catalogue.cover(garden.beds[bed].cover), garden.scenario.site
    soon = [
        window
        for window in windows_near(crop, start, cover, site, day)
        if window.latest >= day and window.earliest <= day + timedelta(days=SOON_DAYS)
    ]
    if not soon:
        return
    window, grown = min(soon, key=lambda one: one.earliest), growing(crop, start, cover, site)
    told: list[tuple[int, Planting, tuple[Hindrance, ...]]] = []
    for sowing in sowings_by_clearing(grown, max(day, window.earliest), pinned=True):
        planting = planting_of(garden, bed, sowing, strips)
        against = tuple(
            one for rule in RULES for one in rule.hinders(garden, plan, planting) if set(one.strips) & set(strips)
        )
        told.append((sowing.course.share_percent, planting, against))
    if told:
        percent, planting, against = min(told, key=lambda one: (bool(one[2]), -one[0], -one[1].clear.toordinal()))
        yield Chance(planting, window.latest, percent, percent_of_start(grown, window.latest), against)
