"""A garden's own yields in words: what is counted instead of the published ones, and why."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.relations.season.own_yields import own_yields
from rotasolve.views.words.wording import TIED, say_count, say_number

if TYPE_CHECKING:
    from collections.abc import Collection

    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.season.own_yields import OwnYield


def say_own_yield(own: OwnYield) -> str:
    """Say what is counted: ``92 % of the published yield (2 seasons weighed gave 84 %, counted by 50 %)``."""
    share, weight, factor = (f"{say_number(part * 100, 0)}{TIED}%" for part in (own.share, own.weight, own.factor))
    weighed = f"{say_count(own.seasons, 'season')} weighed gave {share}, counted by {weight}"
    return f"{factor} of the published yield ({weighed})"


def say_own_yields(scenario: Scenario, crops: Collection[str] | None = None) -> str:
    """Say which crops' yields are a garden's own, of some crops or of all; an empty text if none are."""
    own = own_yields(scenario.weighed)
    said = [f"{crop} {say_own_yield(one)}" for crop, one in own.items() if crops is None or crop in crops]
    return f"Counted by what you weighed: {'; '.join(said)}." if said else ""
