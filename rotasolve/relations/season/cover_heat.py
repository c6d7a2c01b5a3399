"""Summer heat under covers that are kept shut: when a usual afternoon is hotter than crops grow in.

The afternoon is the mean of the day's highest temperatures with the cover's usual gain by day. It is set against the
mean above which a crop no longer grows, so that growers hear of it before growth stops for whole days: tunnels ran 4.2
degrees C above outside at the day's maximum (S76), and light covers are taken off cool crops above 16 degrees C (S82)
and off all above 29 (S24). Yields are counted with covers that are opened in time (``air``).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import year_end, year_start
from rotasolve.relations.season.estimated_climate import climate_of
from rotasolve.relations.season.site_climate import afternoons

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import date

    from rotasolve.domain.catalogue import Catalogue, Cover, CoverName
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.plan import Planting
    from rotasolve.domain.scenario import Scenario
    from rotasolve.domain.site import Site


@dataclass(frozen=True)
class CoverHeat:
    """The days of a garden year on which a shut cover is hotter in a usual afternoon than some crops bear.

    ``bears_c`` is what they bear, ``most_c`` the hottest usual afternoon under the cover, in degrees C.
    """

    cover: CoverName
    crops: tuple[str, ...]
    bears_c: float
    first: date
    last: date
    most_c: float
    sources: tuple[str, ...]


def cover_heats(cover: Cover, crops: Iterable[Crop], site: Site, year: int) -> tuple[CoverHeat, ...]:
    """Return the heat under a cover in a garden year, one for all crops that bear the same, the least first."""
    if cover.day_gain is None or not cover.day_gain_c:
        return ()
    begin, end = year_start(year, site.south), year_end(year, site.south)
    afternoon = afternoons(climate_of(site), cover)
    days = [begin + timedelta(days=nth) for nth in range((end - begin).days + 1)]
    alike: dict[float, list[Crop]] = {}
    for crop in crops:
        if crop.growth_most is not None:
            alike.setdefault(crop.growth_most.usual, []).append(crop)
    found = []
    for bears, ours in sorted(alike.items()):
        hot = [day for day in days if round(afternoon.on(day), 2) > bears]
        if hot:
            names = tuple(sorted({crop.name for crop in ours}, key=str.casefold))
            cited = {key for crop in ours if crop.growth_most is not None for key in crop.growth_most.source}
            sources = tuple(sorted(cited | set(cover.day_gain.source)))
            most = max(map(afternoon.on, hot))
            found.append(CoverHeat(cover.name, names, bears, hot[0], hot[-1], most, sources))
    return tuple(found)


def heats_of(plantings: Iterable[Planting], scenario: Scenario, catalogue: Catalogue) -> list[CoverHeat]:
    """Return the heat that plantings stand in under covers kept shut, each cover and limit once, in its first year."""
    covers = {bed.name: catalogue.cover(bed.cover) for bed in scenario.beds}
    crops = {crop.name: crop for crop in catalogue.crops}
    site = scenario.site
    found: dict[tuple[CoverName, float], CoverHeat] = {}
    for one in sorted(plantings, key=lambda planting: planting.start):
        if one.bed not in covers or one.crop not in crops:
            continue
        for year in range(one.begins_in(site.south), one.ends_in(site.south) + 1):
            for heat in cover_heats(covers[one.bed], [crops[one.crop]], site, year):
                if one.start <= heat.last and one.clear >= heat.first:
                    known = found.get((heat.cover, heat.bears_c), heat)
                    names = tuple(sorted({*known.crops, one.crop}, key=str.casefold))
                    found[heat.cover, heat.bears_c] = replace(known, crops=names)
    return [heat for _, heat in sorted(found.items())]
