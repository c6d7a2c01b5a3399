"""The facts of rules and goals in words, as a program reads them: plain blanks, metric unless asked otherwise."""

from __future__ import annotations

from rotasolve.domain.claim import Claim
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Breach, GoalScore
from rotasolve.views.words.look import Look
from rotasolve.views.words.reasons import say_hindrance, say_reason
from rotasolve.views.words.standing import say_reached
from rotasolve.views.words.wording import plain


def said(what: Claim | Breach | Hindrance | GoalScore, look: Look | None = None) -> str:
    """Say a claim, a breach, a hindrance, or what a plan reaches of a goal."""
    look = look or Look()
    if isinstance(what, GoalScore):
        return plain(say_reached(what, look))
    return plain(say_hindrance(what, look) if isinstance(what, Hindrance) else say_reason(what, look))
