"""The hard rules, in the order shown to users.

To add one: a file here, a line in ``RULES``, a file that says it in ``views/words/rules``, and a test file.
"""

from rotasolve.rule import Rule
from rotasolve.rules.as_pinned import AsPinned
from rotasolve.rules.bed_shadows import BedShadows
from rotasolve.rules.closed_bed import ClosedBeds
from rotasolve.rules.family_once import FamilyOnce
from rotasolve.rules.free_ground import FreeGround
from rotasolve.rules.green_manure_wait import GreenManureWait
from rotasolve.rules.host_years import SoManyHostYears
from rotasolve.rules.least_sun import LeastSun
from rotasolve.rules.manure_interval import ManureInterval
from rotasolve.rules.must_have import MustHaveCrops
from rotasolve.rules.pole_side import PoleSide
from rotasolve.rules.repeatable import Repeatable
from rotasolve.rules.rest import Rest
from rotasolve.rules.season_window import SeasonWindow
from rotasolve.rules.spacing_capacity import SpacingCapacity
from rotasolve.rules.sun_past_neighbours import SunPastNeighbours

RULES: tuple[Rule, ...] = (
    SpacingCapacity(),
    FreeGround(),
    SeasonWindow(),
    Rest(),
    FamilyOnce(),
    SoManyHostYears(),
    GreenManureWait(),
    ManureInterval(),
    ClosedBeds(),
    PoleSide(),
    BedShadows(),
    LeastSun(),
    SunPastNeighbours(),
    Repeatable(),
    MustHaveCrops(),
    AsPinned(),
)
"""From the laws of the ground to the grower's own wishes: a clash blames the last ones last."""

GROUND = ("spacing-capacity", "free-ground")
"""What the ground itself allows: a way out of a clash hardly ever leads through these."""
WISHES = ("must-have", "as-pinned")
"""The grower's own wishes: a way out of a clash leads through them only where no other rule can give way."""


def rule_by_key(key: str) -> Rule:
    """Return the rule with that key.

    Raises
    ------
    KeyError
        If there is none.
    """
    for rule in RULES:
        if rule.key == key:
            return rule
    raise KeyError(key)
