"""What if we move things: room for a crop with the smallest change of a plan."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING

from rotasolve.board import Board
from rotasolve.domain.edits import sealed
from rotasolve.domain.moves import Move, Room
from rotasolve.domain.place import Question
from rotasolve.errors import BrokenPlan
from rotasolve.referee import blank_plan, judge, recount, score
from rotasolve.relations.ground.changes import harvest_between
from rotasolve.relations.ground.crop_shares import crop_shares
from rotasolve.relations.ground.lie_of_beds import part_and_row, rectangle_of
from rotasolve.relations.ground.plantings import choice_of, planting_of, sowing_of
from rotasolve.rules import RULES
from rotasolve.solver.cpsat import Limits, run_cpsat
from rotasolve.solver.incumbent import Incumbent
from rotasolve.solver.program import freeze
from rotasolve.tasks.placement import asked_garden
from rotasolve.tasks.surveying import Survey

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.ground.sowings import Sowing

EFFORT = 6.0
"""Deterministic units for one round; a round on the allotment ends long before."""
MOST_MOVABLE = (8, 16, 28)
"""The most plantings that may change in each round; each round lets more of them move than the one before."""
MOST_PLACES = 40
"""The most places tried for the crop asked for: those with the fewest plantings in the way."""
MOST_ELSEWHERE = 60
"""The most other places tried for one planting: its own bed and its own days first."""
KEPT_SHARE = 0.9
"""A planting that moves keeps at least so much of its picking season."""
MOST_WAYS = 3
"""The most ways shown; each leaves at least one planting alone that every way before it touches."""
MOST_REFUSED = 8
"""So many changes may be refused by the referee before a way is given up: rules that count more than two plantings."""
USUAL_WEIGHT = 2
"""What a crop weighs that is asked for and has no target: as much as a target of which no weight is told."""
_GIVEN_UP, _MOVED = 100_000, 1_000


@dataclass(frozen=True)
class Option:
    """A planting at a place, the planned plantings that stand in its way, and what choosing it costs."""

    planting: Planting
    blockers: frozenset[int]
    cost: int = 0


def make_room(
    scenario: Scenario, catalogue: Catalogue, question: Question, plan: Plan, today: date, effort: float = EFFORT
) -> tuple[Room, ...]:
    """Return ways to make room for a crop, that which changes the fewest plantings first; none if there is no way.

    What is started on or before ``today``, what is kept and what the scenario fixes stays where it is. A planting that
    moves keeps its crop, its number of plants and the garden year of its harvest, and yields no less than nine tenths
    of what it did; only where that cannot be is one cut back or given up, never of the crop asked for, nor of one that
    weighs more among the targets. Every plan returned is refereed.

    Raises
    ------
    GardenFault
        If the question or the plan names unknown things.
    BrokenPlan
        If the plan breaks rules before anything is moved.
    """
    garden = asked_garden(scenario, catalogue, question, plan)
    breaches = judge(garden, plan).breaches
    if breaches:
        raise BrokenPlan(breaches)
    moving = _Moving(garden, plan, question, today)
    ways: list[Room] = []
    while moving.wanted and len(ways) < MOST_WAYS:
        way = _next_way(moving, effort)
        if way is None:
            break
        ways.append(way)
        if not way.moves:
            break  # there is room already
    return tuple(ways)


def _next_way(moving: _Moving, effort: float) -> Room | None:
    """Return the best way that leaves one planting alone of each way before it, as the referee lets it pass."""
    for _ in range(MOST_REFUSED):
        change = _best_change(moving, effort)
        if change is None:
            return None
        after = _after(moving, change)
        if not after.verdict.breaches:
            moving.told.append(frozenset(number for number, _ in change.moves))
            return _room(moving, change, after)
        moving.refused.append(change)
    return None


def _best_change(moving: _Moving, effort: float) -> _Change | None:
    best: _Change | None = None
    free: frozenset[int] = frozenset()
    for most in MOST_MOVABLE:
        wider = moving.widened(free, most)
        if best is not None and wider == free:
            break
        free = wider
        found = moving.solve(free, effort)
        if found is not None and (best is None or found.cost < best.cost):
            best = found
        if best is not None and best.only_moves and len(best.moves) == moving.at_least:
            break
    return best


@dataclass(frozen=True)
class _Change:
    placed: Planting
    moves: tuple[tuple[int, Planting | None], ...]
    cost: int

    @property
    def only_moves(self) -> bool:
        """Whether nothing is cut back or given up."""
        return self.cost < _GIVEN_UP


@dataclass
class _Moving:
    """One question asked of one plan; the places of each planting are looked up once.

    ``told`` are the plantings that each way found so far touches, ``refused`` the changes that the referee refused.
    """

    garden: Garden
    plan: Plan
    question: Question
    today: date
    told: list[frozenset[int]] = field(default_factory=list)
    refused: list[_Change] = field(default_factory=list)
    _elsewhere: dict[int, list[Option]] = field(default_factory=dict)

    @cached_property
    def movable(self) -> frozenset[int]:
        """The plantings that are not in the ground yet and not fixed by the grower."""
        fixed = {(pin.bed, pin.crop, pin.start) for pin in self.garden.scenario.pinned}
        return frozenset(
            n
            for n, p in enumerate(self.plan.plantings)
            if p.start > self.today and not p.kept and (p.bed, p.crop, p.start) not in fixed
        )

    def may_pay(self, number: int) -> bool:
        """Return whether a planting may be cut back or given up: not the crop's own, nor one that weighs more."""
        weights = {target.crop: target.weight for target in self.garden.scenario.household.targets}
        crop, asked = self.plan.plantings[number].crop, self.question.crop
        return crop != asked and weights.get(crop, 0) <= weights.get(asked, USUAL_WEIGHT)

    @cached_property
    def wanted(self) -> list[Option]:
        """The places for the crop asked for, those with the fewest plantings in the way first."""
        found = self._options(self.question, self.plan.plantings, lambda sowing: True)
        return sorted(found, key=lambda option: (len(option.blockers), option.cost))[:MOST_PLACES]

    @property
    def at_least(self) -> int:
        """No change leaves fewer plantings touched: each place needs those in its way to go."""
        return len(self.wanted[0].blockers)

    def _options(
        self, question: Question, standing: Sequence[Planting], keep: Callable[[Sowing], bool]
    ) -> Iterator[Option]:
        """Yield every place for a crop that only movable plantings stand in the way of."""
        numbers = {planting: number for number, planting in enumerate(self.plan.plantings)}
        survey = Survey(self.garden, blank_plan(self.garden.scenario, tuple(standing)), question)
        for bed in self.garden.scenario.beds:
            asked = [sowing for sowings in survey.sowings(bed).values() for sowing in sowings]
            for sowing in asked:
                if sowing.start <= self.today or not keep(sowing):
                    continue
                told = survey.hindrances(bed, sowing)
                for run in survey.runs(bed, sowing):
                    against = [h for h in told if set(run) & set(h.strips)]
                    blockers = frozenset(numbers[h.other] for h in against if h.other is not None)
                    if blockers <= self.movable and all(h.other is not None for h in against):
                        yield Option(
                            survey.planting(bed.name, sowing, run), blockers, 100 - sowing.course.share_percent
                        )

    def elsewhere(self, number: int) -> list[Option]:
        """Return the other places of one planting, nearest to what it was first."""
        if number not in self._elsewhere:
            planting = self.plan.plantings[number]
            others = [p for n, p in enumerate(self.plan.plantings) if n != number]
            question = Question(crop=planting.crop, plants=planting.plants, way=planting.way)
            sowing = sowing_of(self.garden, planting)
            enough = round(KEPT_SHARE * sowing.course.share_percent)
            found = []
            for option in self._options(
                question,
                others,
                lambda s: s.crop_year == sowing.crop_year and s.course.share_percent >= enough,
            ):
                new = option.planting
                days = abs((new.start - planting.start).days)
                if days or (new.bed, new.strips, new.clear) != (planting.bed, planting.strips, planting.clear):
                    cost = _MOVED + 20 * (new.bed != planting.bed) + min(60, days)
                    found.append(Option(new, option.blockers, cost))
            self._elsewhere[number] = sorted(found, key=lambda option: (len(option.blockers), option.cost))
        return self._elsewhere[number]

    def cut_back(self, number: int) -> Iterator[Option]:
        """Yield what is left of a planting that gives up some of its strips at one end."""
        planting = self.plan.plantings[number]
        bed = self.garden.beds[planting.bed]
        size = rectangle_of(bed, planting.strips)
        if size is None:
            return
        rows = sorted({part_and_row(bed, strip)[1] for strip in planting.strips})
        for deep in range(1, size[0]):
            for standing in (rows[:deep], rows[-deep:]):
                strips = tuple(s for s in planting.strips if part_and_row(bed, s)[1] in standing)
                if self.garden.block_on(planting.crop, bed.name, strips) is None:
                    continue
                left = planting_of(self.garden, planting.bed, sowing_of(self.garden, planting), strips)
                if left.plants < planting.plants:
                    lost = 1 - left.plants / planting.plants
                    yield Option(left, frozenset(), _GIVEN_UP + round(_GIVEN_UP * lost))

    def widened(self, free: frozenset[int], most: int) -> frozenset[int]:
        """Return more plantings that may move: those in the way of the crop, then those in the way of these."""
        queue = [option.blockers for option in self.wanted]
        for number in sorted(free):
            queue += [option.blockers for option in self.elsewhere(number)[:4]]
        found = set(free)
        for blockers in queue:
            if len(found | blockers) <= most:
                found |= blockers
        return frozenset(found)

    def solve(self, free: frozenset[int], effort: float) -> _Change | None:
        """Return the cheapest change in which only ``free`` plantings change, or None if there is none.

        What stays need not be in the model, for no option is kept that it hinders; but it counts for what must be had.
        """
        musts = {must.crop for must in self.garden.scenario.household.must_have}
        plantings = self.plan.plantings
        staying = [p for n, p in enumerate(plantings) if n not in free and p.crop in musts]
        options: list[tuple[int | None, Option]] = [(None, o) for o in self.wanted if o.blockers <= free]
        for number in sorted(free):
            options.append((number, Option(plantings[number], frozenset())))
            elsewhere = [option for option in self.elsewhere(number) if option.blockers <= free]
            cut_back = self.cut_back(number) if self.may_pay(number) else ()
            options += [(number, option) for option in [*elsewhere[:MOST_ELSEWHERE], *cut_back]]
        choices = tuple(choice_of(self.garden, p) for p in (*staying, *(option.planting for _, option in options)))
        board = Board(replace(self.garden, only=choices, exact_beds=frozenset(self.garden.beds)))
        for rule in RULES:
            if rule.key != "as-pinned":  # what is fixed does not move
                rule.post(board.garden, board)
        first, given_up = len(staying), dict[int, int]()
        board.define([(number, 1) for number in range(first)], low=first)
        for who in (None, *sorted(free)):
            mine = [(first + n, 1) for n, (whose, _) in enumerate(options) if whose == who]
            if who is not None and self.may_pay(who):
                given_up[who] = board.variable(f"planting {who} given up", 1)
                board.lose(3 * _GIVEN_UP, given_up[who])
                mine.append((given_up[who], 1))
            board.define(mine, low=1, high=1)
        numbers = {(who, option.planting): first + n for n, (who, option) in enumerate(options)}
        self._leave_out(board, numbers, given_up, free)
        for n, (_, option) in enumerate(options):
            board.lose(option.cost, first + n)
        incumbent = Incumbent(freeze(board))
        run_cpsat(incumbent.program, incumbent, Limits(seconds=None, effort=effort), threading.Event())
        values, cost = incumbent.best()
        if values is None or cost is None:
            return None
        taken = {who: option.planting for n, (who, option) in enumerate(options) if values[first + n]}
        moves = [(n, taken.get(n)) for n in sorted(free) if taken.get(n) != plantings[n]]
        return _Change(taken[None], tuple(moves), cost)

    def _leave_out(
        self,
        board: Board,
        numbers: dict[tuple[int | None, Planting], int],
        given_up: dict[int, int],
        free: frozenset[int],
    ) -> None:
        """Leave one planting of each way told alone, and do not do again what the referee has refused."""
        for touched in self.told:
            if touched <= free:
                board.define([(numbers[n, self.plan.plantings[n]], 1) for n in sorted(touched)], low=1)
        for change in self.refused:
            taken = [numbers.get((None, change.placed))]
            taken += [given_up.get(who) if new is None else numbers.get((who, new)) for who, new in change.moves]
            terms = [(number, 1) for number in taken if number is not None]
            if len(terms) == len(taken):
                board.define(terms, high=len(terms) - 1)


def _after(moving: _Moving, change: _Change) -> Plan:
    """Return the changed plan as the referee counts and judges it."""
    garden, plan, moved = moving.garden, moving.plan, dict(change.moves)
    order = {bed: number for number, bed in enumerate(garden.beds)}
    standing = [moved.get(n, p) for n, p in enumerate(plan.plantings)]
    plantings = sorted(
        [change.placed, *(p for p in standing if p is not None)],
        key=lambda p: (order[p.bed], p.start, p.strips, p.crop, p.clear, p.way),
    )
    return recount(garden, plan.model_copy(update={"plantings": tuple(plantings), "standing": None}))


def _room(moving: _Moving, change: _Change, after: Plan) -> Room:
    garden, plan = moving.garden, moving.plan
    return Room(
        question=moving.question,
        placed=change.placed,
        crop_share=crop_shares([change.placed], garden.scenario, garden.catalogue).get(change.placed),
        moves=tuple(Move(before=plan.plantings[n], after=new) for n, new in change.moves),
        at_least=moving.at_least,
        proven=len(change.moves) == moving.at_least,
        plan=sealed(after),
        harvest=harvest_between(plan.plantings, after.plantings),
        lost_before=sum(goal.lost for goal in score(garden, plan)),
        lost_after=sum(goal.lost for goal in after.goals),
    )
