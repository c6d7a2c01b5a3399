"""The referee's verdict in one sentence."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.views.words.wording import say_count

if TYPE_CHECKING:
    from rotasolve.domain.plan import Plan


def say_verdict(plan: Plan) -> str:
    """Say whether the rules hold."""
    breaches = plan.verdict.breaches
    if breaches:
        return f"The plan breaks the rules in {say_count(len(breaches), 'place')}:"
    return f"Every rule holds in all {say_count(len(plan.plantings), 'planting')}."
