"""Closed beds in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_day
from rotasolve.rules.closed_bed import ClosedClaim, ClosedThen, StandsWhileClosed
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say

if TYPE_CHECKING:
    from datetime import date


@say.register
def _(claim: ClosedClaim, look: Look) -> str:
    return f"{claim.bed} is closed {_span(claim.since, claim.until)}"


@say.register
def _(found: StandsWhileClosed, look: Look) -> str:
    return f"{found.crop} stands there from {say_day(found.start)} to {say_day(found.clear)}"


@say.register
def _(why: ClosedThen, look: Look) -> str:
    return f"{why.bed} is closed {_span(why.since, why.until)}, when {why.crop} would stand there"


def _span(since: date, until: date | None) -> str:
    return f"from {say_day(since)}" + (f" to {say_day(until)}" if until is not None else " on")
