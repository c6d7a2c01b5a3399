"""That a site's climate is only an estimate, and how far it may be off."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.relations.season.estimated_climate import DAYS_ERROR_C, NIGHTS_ERROR_C, is_estimated
from rotasolve.views.words.wording import TIED, say_number

if TYPE_CHECKING:
    from rotasolve.domain.site import Site


def say_estimate(site: Site) -> str:
    """Say that the climate is estimated, and its error, as what it is; empty if the grower gave one."""
    if not is_estimated(site):
        return ""
    nights, days = (f"{say_number(error)}{TIED}degC" for error in (NIGHTS_ERROR_C, DAYS_ERROR_C))
    return (
        f"an estimate from latitude and frost dates, {nights} off for nights and {days} for days in the growing "
        "season, more in winter; days of ripeness, windows and yields rest on it"
    )
