"""The ground that is closed to wished crops when a plan begins: by rest that is not over, or by a disease."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from rotasolve.domain.closed_ground import ClosedGround

if TYPE_CHECKING:
    from rotasolve.relations.ground.garden import Garden


def closed_ground(garden: Garden) -> tuple[ClosedGround, ...]:
    """Return each family and disease that keeps wished crops off a bed, or some of its strips, in a planned year.

    Strips of a bed that are free again in the same year are told together.
    """
    first, wished = garden.scenario.first_year, garden.wanted
    strips: dict[tuple[str, str, int | None], list[int]] = {}
    groups, zones = {}, Counter(zone.bed for zone in garden.zones)
    for zone in garden.zones:
        for group in garden.rest_groups(zone.bed):
            visits = [] if group.closes else [last for _, last in garden.past_visits(zone, group)]
            up_to = None if group.closes else max(visits, default=first) + group.gap
            if not group.crops & wished or (up_to is not None and (not visits or up_to < first)):
                continue
            strips.setdefault((group.name, zone.bed, up_to), []).append(zone.strip)
            groups[group.name] = group
    return tuple(
        ClosedGround(
            group=name,
            disease=groups[name].disease,
            crops=tuple(sorted(groups[name].crops & wished)),
            bed=bed,
            strips=tuple(sorted(where)) if len(where) < zones[bed] else (),
            up_to=up_to,
        )
        for (name, bed, up_to), where in strips.items()
    )
