"""Wishes that no bed of the garden can meet, and why: told before the search, so that nobody waits for them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.shortfall import Hopeless, Spacing

if TYPE_CHECKING:
    from rotasolve.relations.ground.garden import Garden


def hopeless_wishes(garden: Garden) -> tuple[Hopeless, ...]:
    """Return each wished crop that fits into no bed, or is never in season in the beds it fits."""
    found = []
    household = garden.scenario.household
    wishes = [target.crop for target in household.targets] + [must.crop for must in household.must_have]
    for name in dict.fromkeys(wishes):
        crop, kinds = garden.crops[name], garden.meeting(name)
        roomy = [bed for bed in garden.beds if garden.blocks(name, bed)]
        if not roomy:
            least = 1 if crop.least_rows is None else round(crop.least_rows.usual)
            in_row, between = crop.spacing_in_row.usual, crop.spacing_between_rows.usual
            needs = Spacing(in_row_cm=in_row, between_rows_cm=between, least_rows=least)
            found.append(Hopeless(crop=name, needs=needs))
        elif not any(sowing.crop in kinds for bed in roomy for sowing in garden.sowings_by_bed[bed]):
            found.append(Hopeless(crop=name))
    return tuple(found)
