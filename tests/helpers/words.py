"""The rules' facts in words, as a program reads them: plain blanks, metric unless asked otherwise."""

from __future__ import annotations

from rotasolve.domain.claim import Claim
from rotasolve.domain.hindrance import Hindrance
from rotasolve.domain.plan import Breach
from rotasolve.views.words.look import Look
from rotasolve.views.words.reasons import say_hindrance, say_reason
from rotasolve.views.words.wording import plain


def said(what: Claim | Breach | Hindrance, look: Look | None = None) -> str:
    """Say a claim, a breach or a hindrance."""
    look = look or Look()
    return plain(say_hindrance(what, look) if isinstance(what, Hindrance) else say_reason(what, look))
