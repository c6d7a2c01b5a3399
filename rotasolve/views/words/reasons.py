"""Claims, breaches and hindrances in words: the one way from a rule's facts to what a grower reads."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.plan import Breach
from rotasolve.views.words.layout import wrap
from rotasolve.views.words.rules import say
from rotasolve.views.words.titles import code_of
from rotasolve.views.words.wording import sentence

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.claim import Claim
    from rotasolve.domain.hindrance import Hindrance
    from rotasolve.views.words.look import Look


def say_reason(reason: Claim | Breach, look: Look) -> str:
    """Say what a claim demands, and of a breach what was found as well."""
    if isinstance(reason, Breach):
        return f"{say(reason.claim, look)}, but {say(reason.found, look)}"
    return say(reason, look)


def say_hindrance(hindrance: Hindrance, look: Look) -> str:
    """Say what stands against a planting."""
    return say(hindrance.why, look)


def claim_of(reason: Claim | Breach) -> Claim:
    """Return the claim that is broken, or the claim itself."""
    return reason.claim if isinstance(reason, Breach) else reason


def reason_sentence(reason: Claim | Breach, look: Look) -> str:
    """Say a reason as a sentence, with the code of its rule where codes are shown."""
    return f"{sentence(say_reason(reason, look))}{code_of(claim_of(reason).rule, look)}"


def reason_list(reasons: Sequence[Claim | Breach], look: Look) -> list[str]:
    """Return sentences as a list."""
    lines: list[str] = []
    for reason in reasons:
        lines += wrap(f"- {reason_sentence(reason, look)}", look.text_width, "", "  ")
    return lines
