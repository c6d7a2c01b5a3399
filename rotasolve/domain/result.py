"""The four ways a search can end, as four types; an empty plan never stands for "none"."""

from __future__ import annotations

from dataclasses import dataclass

from rotasolve.domain.claim import Claim
from rotasolve.domain.plan import Plan


@dataclass(frozen=True)
class ProvenBest:
    """A refereed plan that no other plan can better."""

    plan: Plan


@dataclass(frozen=True)
class Good:
    """A refereed plan; how far it may be from the best stands in ``plan.standing``."""

    plan: Plan


@dataclass(frozen=True)
class Impossible:
    """No plan can hold every rule; ``clash`` are claims that cannot all hold.

    Giving up all claims of any one of ``ways_out`` would do, the grower's own wishes given up last.
    """

    clash: tuple[Claim, ...]
    ways_out: tuple[tuple[Claim, ...], ...] = ()


@dataclass(frozen=True)
class OutOfTime:
    """No plan was found within the limit, and none was proven impossible."""

    limit: str


Result = ProvenBest | Good | Impossible | OutOfTime
