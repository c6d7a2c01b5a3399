"""The words of the rules: for each file of ``rules`` one of the same name, which teaches ``say`` its facts."""

from rotasolve.views.words.rules import (
    as_pinned,
    bed_shadows,
    closed_bed,
    family_once,
    free_ground,
    green_manure_wait,
    host_years,
    least_sun,
    manure_interval,
    must_have,
    pole_side,
    repeatable,
    rest,
    season_window,
    spacing_capacity,
    sun_past_neighbours,
)
from rotasolve.views.words.saying import say

__all__ = [
    "as_pinned",
    "bed_shadows",
    "closed_bed",
    "family_once",
    "free_ground",
    "green_manure_wait",
    "host_years",
    "least_sun",
    "manure_interval",
    "must_have",
    "pole_side",
    "repeatable",
    "rest",
    "say",
    "season_window",
    "spacing_capacity",
    "sun_past_neighbours",
]
