"""Why wishes are not met in full: what each rule has against more of a crop in each bed, without a solver.

``tasks/shortfall`` tries what would help, which takes a search for each wish; this is the short answer beside a plan.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from rotasolve.domain.missed import NEARLY_ALL, ROOM_LEFT, Missed
from rotasolve.domain.place import Question
from rotasolve.relations.ground.blocks import blocks_of
from rotasolve.relations.ground.sowings import sowings_of
from rotasolve.relations.household.outlook import hopeless_wishes
from rotasolve.tasks.placement import asked_garden
from rotasolve.tasks.surveying import Survey

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.bed import Bed
    from rotasolve.domain.hindrance import Hindrance
    from rotasolve.domain.plan import Plan, TargetOutcome
    from rotasolve.relations.ground.garden import Garden

_GROUND = "free-ground"
MOST = 8
"""So many crops are looked into, those that miss most first: no more are read on a first screen."""


MOST_BEDS = 20
"""Of more beds each second, third or further one is looked into: seventy took as long as the search itself."""


def missed_most(targets: Sequence[TargetOutcome]) -> tuple[TargetOutcome, ...]:
    """Return of each crop not nearly had in full the year that misses most, the crop that misses most first."""
    worst: dict[str, TargetOutcome] = {}
    for outcome in targets:
        if outcome.counted_kg < NEARLY_ALL * outcome.wanted_kg:
            worst[outcome.crop] = max(worst.get(outcome.crop, outcome), outcome, key=_share_missing)
    return tuple(sorted(worst.values(), key=_share_missing, reverse=True))


def _share_missing(outcome: TargetOutcome) -> float:
    return outcome.short_kg / outcome.wanted_kg if outcome.wanted_kg else 0.0


def why_missed(garden: Garden, plan: Plan) -> tuple[Missed, ...]:
    """Return why a plan misses its wishes, for the crops that miss most, these first.

    Raises
    ------
    GardenFault
        If the plan names what the scenario does not know.
    """
    short = missed_most(plan.targets)[:MOST]
    if not short:
        return ()
    hopeless = {wish.crop: wish for wish in hopeless_wishes(garden)}
    asked = asked_garden(garden.scenario, garden.catalogue, Question(crop=short[0].crop), plan)
    found = []
    for outcome in short:
        crop, year = outcome.crop, outcome.year
        if crop in hopeless:
            found.append(Missed(crop=crop, year=year, hopeless=hopeless[crop]))
            continue
        survey = Survey(asked, plan, Question(crop=crop))
        reasons = _reasons(survey, year)
        if reasons:
            why = ROOM_LEFT if ROOM_LEFT in reasons else reasons.most_common(1)[0][0]
            found.append(Missed(crop=crop, year=year, why=why, beds=reasons[why]))
    return tuple(found)


def _reasons(survey: Survey, year: int) -> Counter[str]:
    """Return what stands against the crop, by beds; one bed that has room answers for all."""
    beds = survey.garden.scenario.beds
    reasons: Counter[str] = Counter()
    for bed in beds[:: -(-len(beds) // MOST_BEDS)]:
        reasons.update(_reason(survey, bed, year))
        if ROOM_LEFT in reasons:
            break
    return reasons


def _reason(survey: Survey, bed: Bed, year: int) -> tuple[str, ...]:
    """Return what stands against the crop in a bed; nothing if it has no sowing or no room there at all.

    Of the sowing that fewest rules stand against: a rule that no change of the plan would loosen, else the ground if
    other crops hold all of it, else another rule.
    """
    garden, crop = survey.garden, survey.question.crop
    if not blocks_of(garden.crops[crop], bed):
        return ()
    nearest: list[Hindrance] | None = None
    for sowing in sowings_of(garden.crops[crop], garden.catalogue.cover(bed.cover), garden.scenario):
        if sowing.crop_year != year:
            continue
        told = survey.hindrances(bed, sowing)
        if next(survey.free_runs(bed, sowing, told), None) is not None:
            return (ROOM_LEFT,)
        if nearest is None or len({one.claim.rule for one in told}) < len({one.claim.rule for one in nearest}):
            nearest = told
            on_ground = [one for one in told if one.claim.rule == _GROUND]
            taken = next(survey.free_runs(bed, sowing, on_ground), None) is None
    if nearest is None:
        return ()
    fixed = [one.claim.rule for one in nearest if one.other is None]
    others = [one.claim.rule for one in nearest if one.claim.rule != _GROUND]
    return (next((rule for rule in (*fixed, *([_GROUND] if taken else others))), _GROUND),)
