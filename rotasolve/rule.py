"""What a rule and a goal must offer. A rule is hard, a goal is soft; each lives in one file of its own."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from rotasolve.board import Board
    from rotasolve.domain.claim import Facts
    from rotasolve.domain.hindrance import Hindrance
    from rotasolve.domain.plan import Breach, GoalScore, Plan, Planting
    from rotasolve.relations.ground.garden import Garden


class Rule(Protocol):
    """A hard rule. ``post`` and ``breaches`` meet only in the claims they name.

    It hands over facts; ``views/words/rules`` has a file of the same name that says them.
    """

    @property
    def key(self) -> str:
        """The rule's name: its file's name with dashes."""

    @property
    def holds_inside_a_bed(self) -> bool:
        """Whether it matters on which strips of a bed a planting stands: it is posted when a bed is laid out."""

    def post(self, garden: Garden, board: Board) -> None:
        """Post the rule's claims on the board."""

    def breaches(self, garden: Garden, plan: Plan) -> Iterator[Breach]:
        """Yield every claim the finished plan breaks, judged from its dates, strips and places alone."""

    def hinders(self, garden: Garden, plan: Plan, planting: Planting) -> Iterator[Hindrance]:
        """Yield what the rule has against adding one planting to a plan; nothing if it may stand on all its strips.

        The plan is taken as it is and may hold a few plantings only; the planting may cover a whole bed, for each
        hindrance names the strips it bars. Ground and heights are compared by half months, as in the solver.
        """


class Goal(Protocol):
    """A soft goal. Its ``score`` recounts from the finished plan what its ``cost`` charges in the solver.

    It hands over facts; ``views/words/goals`` has a file of the same name that says them.
    """

    @property
    def key(self) -> str:
        """The goal's name: its file's name with dashes."""

    @property
    def reached(self) -> type[Facts]:
        """The kind of facts that says what a plan reaches."""

    def cost(self, garden: Garden, board: Board) -> None:
        """Charge the points the goal loses to the board."""

    def score(self, garden: Garden, plan: Plan) -> GoalScore:
        """Recount the points lost, and what is reached, from the plantings."""
