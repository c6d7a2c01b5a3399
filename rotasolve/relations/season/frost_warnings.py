"""Tender crops started before the last frost: what a planting calendar made for another place does not say.

A bulletin that sets warm-soil crops out on 1 June is right where the last frost falls on 26 May (Cobleskill, New
York, S19) and five days too early where it falls on 6 June (Cooperstown, on the same page).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import garden_year
from rotasolve.relations.season.frosts import chance_of_frost_beyond, chance_of_frosty_night, frost_dates
from rotasolve.relations.season.reasons import BeforeLastFrost

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.catalogue import Cover
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.site import Site

_KILLED_BY_FROST = ("tender", "very tender")


def early_start(crop: Crop, day: date, cover: Cover, site: Site) -> BeforeLastFrost | None:
    """Return the warning that a tender crop is started before the last frost of one year in two, or None.

    The last frost is the one outside. A cover is counted with its night gain only, about 1 degree C: on clear nights
    some covers gave nothing.
    """
    last_frost = frost_dates(site, garden_year(day, site.south))[0]
    early = (last_frost - day).days
    if crop.hardiness.level not in _KILLED_BY_FROST or early <= 0:
        return None
    gain, frosty = None if cover.night_gain is None else cover.night_gain_c, None
    if gain is not None and site.climate is not None:
        frosty = round(100 * chance_of_frosty_night(site.climate, day, gain))
    return BeforeLastFrost(
        crop=crop.name,
        start=day,
        days_early=early,
        frost_percent=round(100 * chance_of_frost_beyond(site, day)[0]),
        cover=cover.name,
        night_gain_c=gain,
        frosty_nights_percent=frosty,
        day=last_frost,
        degrees_c=0.0,
        sources=crop.hardiness.source,
    )
