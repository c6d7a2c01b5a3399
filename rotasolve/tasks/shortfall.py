"""Targets a plan does not reach: how far, and what one more bed, one more metre, a cover or a looser rule would give.

Everything planned stays where it is; only more of the crop is added. So each figure is what a grower gains by that one
change without touching the rest, and a plan searched anew may gain more.
"""

from __future__ import annotations

import threading
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any, get_args

from rotasolve.board import Board
from rotasolve.domain.bed import Bed
from rotasolve.domain.place import Question
from rotasolve.domain.shortfall import Gain, GainKind, Shortfall
from rotasolve.errors import GardenFault
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.blocks import blocks_of
from rotasolve.relations.ground.lie_of_beds import places_of
from rotasolve.relations.ground.plantings import choice_of, planting_of
from rotasolve.relations.ground.sowings import sowings_of
from rotasolve.relations.household.outcomes import target_outcomes
from rotasolve.relations.household.outlook import hopeless_wishes
from rotasolve.relations.household.wanted import counted_kg, with_targets
from rotasolve.rules import rule_by_key
from rotasolve.solver.cpsat import Limits, run_cpsat
from rotasolve.solver.incumbent import Incumbent
from rotasolve.solver.program import freeze
from rotasolve.tasks.placement import asked_garden
from rotasolve.tasks.surveying import Survey

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue, CoverName
    from rotasolve.domain.hindrance import Hindrance
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.ground.sowings import Sowing

LEAST_MISSING = 0.01
"""A target is reached when less than a hundredth of it is missing: yields are not known any better."""
METRE_CM = 100.0
_EFFORT = 1.0
_GROUND = "free-ground"
_HEIGHTS = ("pole-side", "bed-shadows")
"""The rules that ask for the order of heights."""
_SMALLEST_FIRST = get_args(GainKind)
"""The changes in order of size: of equal gains the first is named."""


def find_shortfalls(
    scenario: Scenario,
    catalogue: Catalogue,
    plan: Plan,
    crop: str | None = None,
    begin: Callable[[str], None] = lambda _: None,
    stop: threading.Event | None = None,
) -> tuple[Shortfall, ...]:
    """Return every yearly target that a plan misses, of all crops or of one, with what would help.

    ``begin`` hears which target is looked at; once ``stop`` is set no other one is, and those left are not returned.

    Raises
    ------
    GardenFault
        If the crop has no target, or the plan names what the scenario does not know.
    """
    # What the household eats by the head is wished like any other target.
    targets = [target.crop for target in with_targets(scenario, catalogue).household.targets]
    if crop is not None and crop not in targets:
        raise GardenFault(f"{crop} has no target in this scenario; targets: {', '.join(targets) or 'none'}")
    if not targets:
        return ()
    garden, stop = asked_garden(scenario, catalogue, Question(crop=crop or targets[0]), plan), stop or threading.Event()
    found, hopeless = [], hopeless_wishes(garden)
    for outcome in target_outcomes(garden, plan.plantings):
        missing = outcome.short_kg
        if crop not in (None, outcome.crop) or missing < LEAST_MISSING * outcome.wanted_kg:
            continue
        begin(f"{outcome.crop} {outcome.year}")
        wanting = _Wanting(garden, plan, outcome.crop, outcome.year, stop)
        gains, standing = tuple(wanting.gains(missing)), wanting.standing()
        if stop.is_set():
            break  # not looked at to the end
        found.append(
            Shortfall(
                crop=outcome.crop,
                year=outcome.year,
                wanted_kg=outcome.wanted_kg,
                got_kg=outcome.counted_kg,
                gains=tuple(sorted(gains, key=lambda gain: (-gain.kg, _SMALLEST_FIRST.index(gain.kind)))),
                met_at=outcome.met_at,
                standing=tuple(name for name in standing if not garden.crops[name].green_manure),
                green_manures=tuple(name for name in standing if garden.crops[name].green_manure),
                hopeless=next((wish for wish in hopeless if wish.crop == outcome.crop), None),
            )
        )
    return tuple(found)


@dataclass(frozen=True)
class _Seen:
    """One sowing on all strips of a bed, and what each rule has against it."""

    planting: Planting
    sowing: Sowing
    told: tuple[Hindrance, ...]

    def without(self, rules: Collection[str], instead: Iterable[Hindrance] = ()) -> _Seen:
        """Return the same with other hindrances of some rules."""
        return replace(self, told=(*(h for h in self.told if h.claim.rule not in rules), *instead))


@dataclass(frozen=True)
class _Wanting:
    """More of one crop, harvested in one garden year, beside a plan that stays as it is."""

    garden: Garden
    plan: Plan
    crop: str
    year: int
    stop: threading.Event

    def gains(self, missing: float) -> Iterator[Gain]:
        """Yield what each change gives, no more than is missing, in kg of a typical year."""
        garden, beds = self.garden, list(self.garden.beds.values())
        seen = self._here
        now = {bed.name: self._best(garden, bed, seen[bed.name]) for bed in beds}
        base = sum(now.values())

        def gain(kind: GainKind, kg: float, beside: float = 0.0, **change: Any) -> Gain:
            return Gain(kind=kind, kg=round(max(0.0, min(kg, missing) - beside), 2), **change)

        yield gain("more in the same beds", base)
        if garden.scenario.rules.height_order:
            free = [(bed, [one.without(_HEIGHTS) for one in seen[bed.name]]) for bed in beds]
            most = sum(self._best(garden, bed, here) for bed, here in free)
            yield gain("no order of heights", most, base)
        gap = next((g.gap for g in garden.rest_groups(beds[0].name) if self.crop in g.crops and not g.disease), 0)
        if gap:
            most = sum(self._best(garden, bed, self._rested(bed, seen[bed.name], gap - 1)) for bed in beds)
            yield gain("one year less rest", most, base, rest_years=gap - 1)
        covered = [(self._covered(bed) - now[bed.name], bed) for bed in beds if bed.cover == "open ground"]
        if covered:
            most, bed = max(covered, key=lambda pair: pair[0])
            yield gain("a cover", base + most, base, cover=self._cover, bed=bed.name)
        like = max(beds, key=lambda bed: bed.length * bed.width)
        sizes: tuple[tuple[GainKind, float], ...] = (("one more metre", METRE_CM), ("one more bed", like.length))
        for kind, length in sizes:
            yield gain(kind, self._fresh(like, length), length_cm=length, width_cm=like.width)

    def standing(self) -> tuple[str, ...]:
        """Return the other crops that hold the ground that more would need, those that hold most strips first.

        Of each bed that sowing counts against which they hold the fewest strips.
        """
        held: Counter[str] = Counter()
        for seen in self._here.values():
            ways = [
                {(h.other.crop, strip) for h in one.told if h.claim.rule == _GROUND and h.other for strip in h.strips}
                for one in seen
            ]
            held.update(crop for crop, _ in min(ways, key=len, default=set()) if crop != self.crop)
        return tuple(sorted(held, key=lambda crop: (-held[crop], crop)))

    @cached_property
    def _here(self) -> dict[str, list[_Seen]]:
        """What each rule has against more of the crop in each bed as the garden and the plan are."""
        return {bed.name: self._seen(self.garden, bed, self.plan) for bed in self.garden.beds.values()}

    @property
    def _cover(self) -> CoverName:
        """The cover that is proposed: a low tunnel where the catalogue has one, else the longest season there is."""
        covers = {cover.name: cover for cover in self.garden.catalogue.covers}
        if "low tunnel" in covers:
            return "low tunnel"
        return max(covers.values(), key=lambda cover: cover.days_earlier + cover.days_later).name

    def _covered(self, bed: Bed) -> float:
        """Return what a bed could yield more under the cover proposed, beside what is planned there."""
        new = bed.model_copy(update={"cover": self._cover})
        beds = tuple(new if other.name == bed.name else other for other in self.garden.scenario.beds)
        garden = replace(self.garden, scenario=self.garden.scenario.model_copy(update={"beds": beds}))
        return self._best(garden, new, self._seen(garden, new, self.plan))

    def _fresh(self, like: Bed, length: float) -> float:
        """Return what a bed of that length yields in which nothing has ever stood and that lies far from all others."""
        bed = Bed(name="one more", length=length, width=like.width, runs=like.runs, strip=like.strip)
        scenario = self.garden.scenario.model_copy(update={"beds": (bed,), "history": ()})
        alone = replace(self.garden, scenario=scenario, exact_beds=frozenset({bed.name}))
        return self._best(alone, bed, self._seen(alone, bed, blank_plan(scenario)))

    def _rested(self, bed: Bed, seen: list[_Seen], gap: int) -> list[_Seen]:
        """Return the same sowings with what the rule of rest has against them after a shorter gap."""
        scenario = self.garden.scenario
        rules = scenario.rules.model_copy(update={"family_gap": gap})
        garden = replace(self.garden, scenario=scenario.model_copy(update={"rules": rules}))
        plan = Survey(garden, self.plan, Question(crop=self.crop)).near(bed)
        rest = rule_by_key("rest")
        return [
            one.without(("rest",), rest.hinders(garden, plan, one.planting))
            if any(hindrance.claim.rule == "rest" for hindrance in one.told)
            else one
            for one in seen
        ]

    def _seen(self, garden: Garden, bed: Bed, plan: Plan) -> list[_Seen]:
        """Return every sowing of the crop year in a bed with what each rule has against it beside a plan."""
        survey = Survey(garden, plan, Question(crop=self.crop))
        if not blocks_of(garden.crops[self.crop], bed):
            return []
        return [
            _Seen(survey.whole(bed, sowing), sowing, tuple(survey.hindrances(bed, sowing)))
            for sowing in sowings_of(garden.crops[self.crop], garden.catalogue.cover(bed.cover), garden.scenario)
            if sowing.crop_year == self.year
        ]

    def _best(self, garden: Garden, bed: Bed, seen: Iterable[_Seen]) -> float:
        """Return the most kg, as targets count them, that the open places of a bed yield: only ground keeps them apart.

        They are of one crop and one crop year, so neither rest nor height stands between them.
        """
        if self.stop.is_set():
            return 0.0
        blocks, places = blocks_of(garden.crops[self.crop], bed), []
        runs = [run for block in blocks for run in places_of(bed, block.deep, block.parts)]
        for one in seen:
            barred = {strip for hindrance in one.told for strip in hindrance.strips}
            places += [planting_of(garden, bed.name, one.sowing, run) for run in runs if not barred & set(run)]
        if not places:
            return 0.0
        alone = garden.scenario.model_copy(update={"beds": (bed,)})
        small = replace(garden, scenario=alone, only=tuple(choice_of(garden, place) for place in places))
        board = Board(small)
        rule_by_key("free-ground").post(small, board)
        grams = [round(1000 * counted_kg(place.harvest, garden.scenario.household)) for place in places]
        board.lose_always(sum(grams))
        for number, gram in enumerate(grams):
            board.lose(-gram, number)
        incumbent = Incumbent(freeze(board))
        run_cpsat(incumbent.program, incumbent, Limits(seconds=None, effort=_EFFORT), self.stop)
        _, lost = incumbent.best()
        return 0.0 if lost is None else (sum(grams) - lost) / 1000
