"""Why can there be no plan? The smallest clash of a scenario, and the ways out of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.clash import explain
from rotasolve.relations.ground.garden import make_garden

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.result import Impossible
    from rotasolve.domain.scenario import Scenario


def explain_clash(scenario: Scenario, catalogue: Catalogue) -> Impossible | None:
    """Return claims that cannot all hold and what giving up would do, or None if no clash is found.

    Gardens too large to be modelled strip by strip are judged by counts of strips: a clash found there is one, but
    heights that cannot be put in order inside a bed are found by planning only.
    """
    found = explain(make_garden(scenario, catalogue))
    return found if found.clash else None
