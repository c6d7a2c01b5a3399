"""The diseases that bind a bed, and the years in which hosts stood on its ground before a plan."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import garden_year
from rotasolve.relations.ground.hosts import HostYears, past_host_years

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.ground.families import FamilyGraph, RestGroup


def disease_groups(scenario: Scenario, bed: Bed, graph: FamilyGraph) -> tuple[RestGroup, ...]:
    """Return the hosts of each disease known in a bed, and of each that was seen there, from the first day on."""
    here = sorted((one for one in scenario.seen if one.bed == bed.name), key=lambda one: one.since, reverse=True)
    seen = {one.disease: one.since for one in here}
    groups = [graph.disease_group(disease) for disease in bed.diseases]
    groups += [
        replace(graph.disease_group(name), seen=since) for name, since in seen.items() if name not in bed.diseases
    ]
    return tuple(groups)


def host_years_before(scenario: Scenario, bed: Bed, strip: int, group: RestGroup) -> frozenset[HostYears]:
    """Return the garden years in which a group's earlier plantings were hosts in a bed (``strip`` 0) or a strip.

    For a known disease the last year that is not on record counts as one: a host may have stood there. So does the year
    in which a disease was seen.
    """
    south, first = scenario.site.south, scenario.first_year
    here = [past for past in scenario.past_in(bed.name) if not strip or past.takes(strip)]
    found = {past_host_years(past, south) for past in here if past.crop in group.crops}
    if group.disease:
        recorded = {year for past in here for year in range(past.year, past.last_year(south) + 1)}
        since = bed.history_since or first
        unknown = [year for year in range(max(first - group.gap, 0), min(since, first)) if year not in recorded]
        found |= {(year, year) for year in unknown[-1:]}
    if group.seen is not None:
        found.add((garden_year(group.seen, south),) * 2)
    return frozenset(found)
