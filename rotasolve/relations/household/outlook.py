"""Wishes that no bed of the garden can meet, and why: told before the search, so that nobody waits for them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.measures import say_length

if TYPE_CHECKING:
    from rotasolve.relations.ground.garden import Garden


def hopeless_wishes(garden: Garden) -> tuple[str, ...]:
    """Return a sentence for each wished crop that fits into no bed, or is never in season in the beds it fits."""
    found = []
    household = garden.scenario.household
    wishes = [target.crop for target in household.targets] + [must.crop for must in household.must_have]
    for name in dict.fromkeys(wishes):
        crop = garden.crops[name]
        roomy = [bed for bed in garden.beds if garden.lot(name, bed) is not None]
        if not roomy:
            plants, rows = say_length(crop.spacing_in_row.usual), say_length(crop.spacing_between_rows.usual)
            least = 1 if crop.least_rows is None else round(crop.least_rows.usual)
            block = f" and a block of at least {least} rows" if least > 1 else ""
            found.append(f"{name} fits into no bed: it needs {plants} in the row, {rows} between rows{block}.")
        elif not any(sowing.crop == name for bed in roomy for sowing in garden.sowings_by_bed[bed]):
            found.append(
                f"{name} is never in season in a bed it fits: with these frost dates there is no start from which it "
                "ripens in the years planned; a cover over a bed would lengthen the season."
            )
    return tuple(found)
