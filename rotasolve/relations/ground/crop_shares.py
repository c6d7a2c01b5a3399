"""Which plantings give less than a full crop, why, and of which quick kinds are counted: said, never counted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.crop_share import CropShare, ShareReason
from rotasolve.relations.ground.sowings import sowing_from, start_meant
from rotasolve.relations.season.growing import GOOD, Growing, growing
from rotasolve.relations.season.windows import start_days, windows_near

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rotasolve.domain.catalogue import Catalogue, Cover
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.plan import Planting
    from rotasolve.domain.scenario import Scenario
    from rotasolve.domain.site import Site


def crop_shares(plantings: Iterable[Planting], scenario: Scenario, catalogue: Catalogue) -> dict[Planting, CropShare]:
    """Return the plantings that give less than ``GOOD`` per cent of a full crop, in their order.

    What names a bed or a crop that is not known, as a plan changed by hand may, is left out.
    """
    found = {}
    for planting, grown in _known(plantings, scenario, catalogue):
        share = _share(planting, grown)
        if share is not None:
            found[planting] = share
    return found


def quick_kinds(plantings: Iterable[Planting], scenario: Scenario, catalogue: Catalogue) -> dict[str, int]:
    """Return the crops of which quick kinds are counted somewhere, and the fewest days from start to picking."""
    found: dict[str, int] = {}
    for planting, grown in _known(plantings, scenario, catalogue):
        if grown.quick:
            days = round(grown.published_days)
            found[planting.crop] = min(days, found.get(planting.crop, days))
    return dict(sorted(found.items(), key=lambda one: one[0].casefold()))


def _known(
    plantings: Iterable[Planting], scenario: Scenario, catalogue: Catalogue
) -> Iterator[tuple[Planting, Growing]]:
    """Yield plantings with how they grow; a plan changed by hand may name beds and crops that nobody knows."""
    crops = {crop.name: crop for crop in catalogue.crops}
    covers = {bed.name: catalogue.cover(bed.cover) for bed in scenario.beds}
    for planting in plantings:
        if planting.crop in crops and planting.bed in covers:
            yield planting, _grown(planting, crops[planting.crop], covers[planting.bed], scenario.site)


def _grown(planting: Planting, crop: Crop, cover: Cover, site: Site) -> Growing:
    return growing(crop, start_meant(crop, planting.way, planting.start, cover, site), cover, site)


def crop_share(planting: Planting, crop: Crop, cover: Cover, site: Site) -> CropShare | None:
    """Return the share of a full crop that a planting gives, None if it is ``GOOD`` per cent at least."""
    return _share(planting, _grown(planting, crop, cover, site))


def _share(planting: Planting, grown: Growing) -> CropShare | None:
    if grown.crop.green_manure or planting.first_harvest is None:
        return None
    if grown.days_until_ripe(planting.start) is None:
        return CropShare(percent=0, why="not ripe")
    percent = sowing_from(planting, grown).course.share_percent
    return None if percent >= GOOD else CropShare(percent=percent, why=_why(grown, planting, percent))


def _why(grown: Growing, planting: Planting, percent: int) -> ShareReason:
    whole = 100 * grown.share_of_start(planting.start)
    if percent < GOOD / 100 * whole:
        return "cleared early"
    windows = windows_near(grown.crop, grown.start, grown.cover, grown.site, planting.start)
    if windows:
        near = min(windows, key=lambda w: max(w.earliest - planting.start, planting.start - w.latest))
        # The half months' first open days are what a plan is offered.
        best = max(start_days(near, near.earliest, near.latest), key=grown.share_of_start)
        if whole < GOOD * grown.share_of_start(best):
            return "late" if planting.start > best else "early"
    spring = grown.crop.spring_share is not None and grown.opens_in_spring
    return "in spring" if spring else "best here"
