"""Plantings that a new plan keeps as they are, and what may still be planned around them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import period_of
from rotasolve.relations.sowings import Kept, Sowing, sowing_from

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.plan import Planting


@dataclass(frozen=True)
class Keeping:
    """The plantings kept, and the day up to which everything has been decided.

    On that day and before it nothing new is sown, neither in place nor indoors, nor set out; ``raised`` names the
    (crop, way, start) of seedlings that an earlier plan had under way by then.
    """

    plantings: tuple[Planting, ...] = ()
    decided_until: date | None = None
    raised: frozenset[tuple[str, str, date]] = frozenset()

    def allows(self, sowing: Sowing) -> bool:
        """Return whether a sowing may still be planned."""
        if self.decided_until is None:
            return True
        if (sowing.crop, sowing.way, sowing.start) in self.raised:
            return sowing.start > self.decided_until
        return (sowing.course.raise_from or sowing.start) > self.decided_until


def with_kept(
    offered: Mapping[str, tuple[Sowing, ...]],
    keeping: Keeping,
    beds: Mapping[str, Bed],
    crops: Mapping[str, Crop],
    south: bool,
) -> dict[str, tuple[Sowing, ...]]:
    """Return the sowings of each bed with one more for each planting that is kept, less what may not be planned."""
    found = {}
    for bed, sowings in offered.items():
        here = [planting for planting in keeping.plantings if planting.bed == bed]
        kept = [_kept_sowing(planting, here, crops[planting.crop], beds[bed].cover, south) for planting in here]
        free = [sowing for sowing in sowings if sowing.pinned or keeping.allows(sowing)]
        free = [sowing for sowing in free if not any(_in_the_gap(sowing, other) for other in kept)]
        found[bed] = (*free, *kept)
    return found


def _kept_sowing(planting: Planting, here: Iterable[Planting], crop: Crop, cover: str, south: bool) -> Sowing:
    last = period_of(planting.clear)
    early = any(period_of(other.start) == last and other.start > planting.clear for other in here)
    kept = Kept(planting.strips, planting.rows, planting.plants, early)
    return replace(sowing_from(planting, crop, cover, south), kept=kept)


def _in_the_gap(sowing: Sowing, kept: Sowing) -> bool:
    """Return whether a sowing would start while a kept one still stands, in the half month it gives back early."""
    if kept.kept is None or not kept.kept.gives_back_early:
        return False
    last = period_of(kept.course.clear)
    within = last in sowing.periods and sowing.start <= kept.course.clear
    return within and not set(sowing.periods) & set(kept.periods)
