"""Plantings of an earlier plan in a new one: those kept, those that may stay, and what may be planned around them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import period_of
from rotasolve.relations.ground.lie_of_beds import height_class, reach_factor
from rotasolve.relations.ground.noon_reach import reach_of_sowing
from rotasolve.relations.ground.sowings import Kept, Sowing, sowing_from

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rotasolve.domain.plan import Planting
    from rotasolve.relations.ground.garden import Garden


@dataclass(frozen=True)
class Keeping:
    """The plantings kept, the day up to which everything has been decided, and plantings that may stay as they were.

    On that day and before it nothing new is sown, neither in place nor indoors, nor set out; ``raised`` names the
    (crop, way, start) of seedlings that an earlier plan had under way by then.
    """

    plantings: tuple[Planting, ...] = ()
    decided_until: date | None = None
    raised: frozenset[tuple[str, str, date]] = frozenset()
    before: tuple[Planting, ...] = ()

    def allows(self, sowing: Sowing) -> bool:
        """Return whether a sowing may still be planned."""
        if self.decided_until is None:
            return True
        if (sowing.crop, sowing.way, sowing.start) in self.raised:
            return sowing.start > self.decided_until
        return (sowing.course.raise_from or sowing.start) > self.decided_until


def with_kept(garden: Garden, keeping: Keeping) -> Garden:
    """Return the garden with one more sowing for each planting that is kept or may stay, less what cannot be beside it.

    Beds, crops and strips of the plantings must be known. What may stay is left out where nobody wants the crop any
    more, or where it would be started in the past.
    """
    may_stay = {p: _as_it_was(garden, p, held=False) for p in keeping.before if p.crop in garden.wanted}
    may_stay = {planting: sowing for planting, sowing in may_stay.items() if keeping.allows(sowing)}
    kept = {bed: tuple(_kept_sowings(garden, keeping, bed)) for bed in garden.beds}
    early = [(bed, sowing) for bed, sowings in kept.items() for sowing in sowings if _gives_back_early(sowing)]
    found = {}
    for bed, sowings in garden.sowings_by_bed.items():
        free = [sowing for sowing in sowings if sowing.pinned or keeping.allows(sowing)]
        stand = {(sowing.crop, sowing.start, sowing.kept.strips) for sowing in kept[bed] if sowing.kept is not None}
        # What was started before the plan has a sowing of its own already, unless it is kept from an earlier plan.
        free = [s for s in free if s.kept is None or (s.crop, s.start, s.kept.strips) not in stand]
        free += [sowing for planting, sowing in may_stay.items() if planting.bed == bed]
        for where, other in early:
            free = [sowing for sowing in free if not _in_the_gap(garden, bed, sowing, where, other)]
        found[bed] = (*free, *kept[bed])
    before, few = tuple(may_stay), garden.few_sizes
    return replace(garden, sowings_by_bed=found, kept=keeping.plantings, before=before, thinned=few)


def _kept_sowings(garden: Garden, keeping: Keeping, bed: str) -> Iterator[Sowing]:
    near = {bed} | {shading.receiver for shading in garden.shadings if shading.caster == bed}
    near |= {shading.caster for shading in garden.shadings if shading.receiver == bed}
    for planting in keeping.plantings:
        if planting.bed == bed:
            last = period_of(planting.clear)
            after = [other.start for other in keeping.plantings if other.bed in near]
            early = any(period_of(start) == last and start > planting.clear for start in after)
            yield _as_it_was(garden, planting, early)


def _as_it_was(garden: Garden, planting: Planting, early: bool = False, *, held: bool = True) -> Sowing:
    kept = Kept(planting.strips, planting.rows, planting.plants, early, held)
    return replace(sowing_from(planting, garden.growing(planting)), kept=kept)


def _gives_back_early(sowing: Sowing) -> bool:
    return sowing.kept is not None and sowing.kept.gives_back_early


def _in_the_gap(garden: Garden, bed: str, sowing: Sowing, where: str, kept: Sowing) -> bool:
    """Return whether a sowing would be in the way of a kept one in the half month that this one gives back early.

    In the same bed, if it starts in that half month while the kept one still stands, or if shadows decide and one that
    reaches further then than ever before could fall on the other; in a bed near by, if one of them would shade the
    other just then. What stands before as well is compared in the half months before.
    """
    last = period_of(kept.course.clear)
    if last not in sowing.periods or sowing.start > kept.course.clear:
        return False
    rules, site = garden.scenario.rules, garden.scenario.site
    if bed == where:
        together = set(sowing.periods) & set(kept.periods)
        longer = rules.height_order == "by shadow" and _reaches_further(garden, sowing, kept, together, last)
        return not together or longer
    crops = {bed: garden.crops[sowing.crop], where: garden.crops[kept.crop]}
    for shading in garden.shadings if rules.height_order else ():
        if {shading.caster, shading.receiver} == {bed, where}:
            tall, low = crops[shading.caster], crops[shading.receiver]
            reach = (tall.height.usual - low.height.usual) * reach_factor(site, last)
            if height_class(tall, rules) > height_class(low, rules) and reach > shading.gap_cm:
                return True
    return False


def _reaches_further(garden: Garden, one: Sowing, other: Sowing, together: set[int], last: int) -> bool:
    """Return whether the taller of two crops throws a longer noon shadow in a half month than in those before."""
    classes = {sowing: height_class(garden.crops[sowing.crop], garden.scenario.rules) for sowing in (one, other)}
    if classes[one] == classes[other]:
        return False
    tall = max((one, other), key=lambda sowing: classes[sowing])
    crop, site = garden.crops[tall.crop], garden.scenario.site
    before = max((reach_of_sowing(site, crop, tall, period) for period in together), default=0.0)
    return reach_of_sowing(site, crop, tall, last) > before
