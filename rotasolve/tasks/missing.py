"""Why wishes are not met in full: what each rule has against more of a crop in each bed, without a solver.

``tasks/shortfall`` tries what would help, which takes a search for each wish; this is the short answer beside a plan.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from rotasolve.domain.missed import NEARLY_ALL, ROOM_LEFT, Missed
from rotasolve.domain.place import Question
from rotasolve.relations.ground.blocks import blocks_of
from rotasolve.relations.household.outlook import hopeless_wishes
from rotasolve.tasks.placement import asked_garden
from rotasolve.tasks.surveying import Survey

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.bed import Bed
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.plan import Plan, TargetOutcome
    from rotasolve.domain.scenario import Scenario

MOST = 8
"""So many crops are looked into, those that miss most first: no more are read on a first screen."""


def missed_most(targets: Sequence[TargetOutcome]) -> tuple[TargetOutcome, ...]:
    """Return of each crop not nearly had in full the year that misses most, the crop that misses most first."""
    worst: dict[str, TargetOutcome] = {}
    for outcome in targets:
        if outcome.counted_kg < NEARLY_ALL * outcome.wanted_kg:
            worst[outcome.crop] = max(worst.get(outcome.crop, outcome), outcome, key=_share_missing)
    return tuple(sorted(worst.values(), key=_share_missing, reverse=True))


def _share_missing(outcome: TargetOutcome) -> float:
    return outcome.short_kg / outcome.wanted_kg if outcome.wanted_kg else 0.0


def why_missed(scenario: Scenario, catalogue: Catalogue, plan: Plan) -> tuple[Missed, ...]:
    """Return why a plan misses its wishes, for the crops that miss most, these first.

    Raises
    ------
    GardenFault
        If the plan names what the scenario does not know.
    """
    short = missed_most(plan.targets)[:MOST]
    if not short:
        return ()
    garden = asked_garden(scenario, catalogue, Question(crop=short[0].crop), plan)
    hopeless = {wish.crop: wish for wish in hopeless_wishes(garden)}
    found = []
    for outcome in short:
        crop, year = outcome.crop, outcome.year
        if crop in hopeless:
            found.append(Missed(crop=crop, year=year, hopeless=hopeless[crop]))
            continue
        survey = Survey(garden, plan, Question(crop=crop))
        reasons = Counter(reason for bed in scenario.beds for reason in _reason(survey, bed, year))
        if reasons:
            why = ROOM_LEFT if ROOM_LEFT in reasons else reasons.most_common(1)[0][0]
            found.append(Missed(crop=crop, year=year, why=why, beds=reasons[why]))
    return tuple(found)


def _reason(survey: Survey, bed: Bed, year: int) -> tuple[str, ...]:
    """Return what stands against the crop in a bed; nothing if it has no sowing or no room there at all.

    Of the sowing that comes nearest it is the rule that free ground would not loosen.
    """
    garden, crop = survey.garden, survey.question.crop
    if not blocks_of(garden.crops[crop], bed):
        return ()
    told = []
    for sowing in garden.sowings_by_bed[bed.name]:
        if sowing.crop == crop and sowing.crop_year == year:
            hindrances = survey.hindrances(bed, sowing)
            if next(survey.free_runs(bed, sowing, hindrances), None) is not None:
                return (ROOM_LEFT,)
            told.append(list(dict.fromkeys(one.claim.rule for one in hindrances)))
    if not told:
        return ()
    nearest = min(told, key=len)
    return (next((rule for rule in nearest if rule != "free-ground"), "free-ground"),)
