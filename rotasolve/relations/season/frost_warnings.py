"""Tender crops started before the last frost: what a planting calendar made for another place does not say.

A bulletin that sets warm-soil crops out on 1 June is right where the last frost falls on 26 May (Cobleskill, New
York, S19) and five days too early where it falls on 6 June (Cooperstown, on the same page).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import garden_year
from rotasolve.relations.season.frosts import chance_of_frost_beyond, chance_of_frosty_night, frost_dates
from rotasolve.relations.season.reasons import WindowReason, say_short

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.catalogue import Cover
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.site import Site

_KILLED_BY_FROST = ("tender", "very tender")


def early_start(crop: Crop, day: date, cover: Cover, site: Site) -> WindowReason | None:
    """Return the warning that a tender crop is started before the last frost of one year in two, or None.

    The last frost is the one outside. A cover is counted with its night gain only, about 1 degree C: on clear nights
    some covers gave nothing.
    """
    last_frost = frost_dates(site, garden_year(day, site.south))[0]
    early = (last_frost - day).days
    if crop.hardiness.level not in _KILLED_BY_FROST or early <= 0:
        return None
    chance = round(100 * chance_of_frost_beyond(site, day)[0])
    days = "1 day" if early == 1 else f"{early} days"
    sentence = (
        f"{say_short(day)} is {days} before the last frost of 1 year in 2 ({say_short(last_frost)}): in {chance} years "
        f"of 100 frost still comes, and {crop.name} dies of it"
    )
    if cover.night_gain is not None:
        sentence += f"; count on no more than {cover.night_gain_c:g} degC from the {cover.name}"
        if site.climate is not None:
            night = round(100 * chance_of_frosty_night(site.climate, day, cover.night_gain_c))
            sentence += f", with which {night} nights of 100 about that date still freeze"
    return WindowReason("frost", sentence, last_frost, 0.0, crop.hardiness.source)
