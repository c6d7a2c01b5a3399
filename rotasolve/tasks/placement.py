"""Where can a crop go? Every place in every bed, judged by the rules themselves, without a solver."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.place import Place, Places, Question, Refusal, Remark
from rotasolve.domain.seasons import garden_year, period_of, say_year
from rotasolve.errors import GardenFault
from rotasolve.recount.families import stay_before, stay_of
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.crop_shares import crop_share, quick_kinds
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.ground.lie_of_beds import places_of
from rotasolve.relations.ground.noon_shade import noon_shade
from rotasolve.relations.ground.plantings import planting_of, strips_of
from rotasolve.relations.ground.sowings import pinned_sowing
from rotasolve.tasks.refereeing import refuse_other_plan
from rotasolve.tasks.surveying import Survey

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.bed import Bed
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.ground.sowings import Sowing


def find_places(scenario: Scenario, catalogue: Catalogue, question: Question, plan: Plan | None = None) -> Places:
    """Return every place where a crop may go, best first, and why the other beds will not do.

    Parameters
    ----------
    plan
        The plantings it must go beside. Default: those the scenario pins to strips. The history always counts.

    Returns
    -------
    Places
        With ``plants`` asked, each place holds so many; otherwise each is the longest run of strips that is free for
        it. The best place is the one with the most harvest, then one that keeps the family's wished rest, then one
        without noon shade, then the earliest, then the one that leaves the longest run of strips free.

    Raises
    ------
    GardenFault
        If the question or the plan names what the scenario or the catalogue does not know.
    """
    garden = asked_garden(scenario, catalogue, question, plan)
    pinned = scenario.pinned if plan is None else ()
    plan = _plan_of_pins(garden) if plan is None else plan
    survey = Survey(garden, plan, question)
    places: list[Place] = []
    refusals: list[Refusal] = []
    for bed in scenario.beds:
        fit, unfit = _in_bed(survey, bed)
        places += fit
        refusals += unfit
    order = {bed.name: number for number, bed in enumerate(scenario.beds)}
    places.sort(key=lambda place: (*_rank(garden, place), order[place.planting.bed], place.planting.strips))
    return Places(
        question=question,
        places=tuple(places),
        refusals=tuple(refusals),
        loose_pins=tuple(pin for pin in pinned if not pin.strips),
        quick_days=quick_kinds((one.planting for one in places), garden.scenario, catalogue).get(question.crop),
    )


def asked_garden(scenario: Scenario, catalogue: Catalogue, question: Question, plan: Plan | None) -> Garden:
    """Return the garden of a question, strip by strip, in which the crop asked for and all of the plan may stand.

    Raises
    ------
    GardenFault
        If the question or the plan names what the scenario or the catalogue does not know.
    """
    known = {crop.name for crop in catalogue.crops}
    if question.crop not in known:
        raise GardenFault(f"the crop {question.crop!r} is not known")
    south, years = scenario.site.south, scenario.planned_years
    year = garden_year(question.on, south) if question.on is not None else question.year
    if year is not None and year not in years:
        span = " to ".join(dict.fromkeys([say_year(years[0], south), say_year(years[-1], south)]))
        raise GardenFault(f"{say_year(year, south)} lies outside the planned years, {span}; ask for a day within them")
    crops = {question.crop} | ({p.crop for p in plan.plantings} & known if plan is not None else set())
    allowed = (*scenario.also_allowed, *sorted(crops - set(scenario.also_allowed)))
    garden = make_garden(scenario.model_copy(update={"also_allowed": allowed}), catalogue, exact=True)
    if question.way is not None and not any(s.way == question.way for s in garden.crops[question.crop].starts):
        raise GardenFault(f"{question.crop} is never {question.way}; leave the way out or ask for another one")
    if plan is not None:
        refuse_other_plan(garden, plan)
    return garden


def _plan_of_pins(garden: Garden) -> Plan:
    """Return the plan that holds what the scenario pins to strips; pins that name none are left out."""
    scenario, standing = garden.scenario, []
    for pin in dict.fromkeys(scenario.pinned):
        cover = garden.catalogue.cover(garden.beds[pin.bed].cover)
        sowing = pinned_sowing(pin, garden.crops[pin.crop], cover, scenario)
        if pin.strips:
            standing.append(planting_of(garden, pin.bed, sowing, tuple(sorted(pin.strips))))
    return blank_plan(scenario, tuple(standing))


def _rank(garden: Garden, place: Place) -> tuple[float, ...]:
    wished = min(
        (group.gap_wished for group in garden.rest_groups(place.planting.bed) if place.planting.crop in group.crops),
        default=0,
    )
    short_rest = place.rest_years is not None and place.rest_years < wished
    shaded = place.shade.depth_cm if place.shade is not None else 0
    left = _longest_run(garden.beds[place.planting.bed], place.free_strips)
    return (-round(place.planting.harvest.typical_kg, 2), short_rest, shaded, place.planting.start.toordinal(), -left)


def _longest_run(bed: Bed, strips: tuple[int, ...]) -> int:
    free = set(strips)
    for length in range(len(free), 0, -1):
        if any(free.issuperset(run) for run in places_of(bed, length)):
            return length
    return 0


def _in_bed(survey: Survey, bed: Bed) -> tuple[list[Place], list[Refusal]]:
    """Return the places in a bed, and a refusal for each garden year in which there is none."""
    places: list[Place] = []
    refusals: list[Refusal] = []
    for year, sowings in survey.sowings(bed).items():
        served: set[tuple[date, str]] = set()
        refused: list[Refusal] = []
        for sowing in sowings:
            if (sowing.start, sowing.way) in served:
                continue  # picked to its end there is a place already: no need to clear it early
            told = survey.hindrances(bed, sowing)
            found = [_place(survey, bed, sowing, strips) for strips in survey.free_runs(bed, sowing, told)]
            if found:
                served.add((sowing.start, sowing.way))
                places += found
            elif told:
                whole = survey.whole(bed, sowing)
                refused.append(Refusal(bed=bed.name, year=year, planting=whole, hindrances=tuple(told)))
        if not served and refused:
            refusals.append(min(refused, key=_how_near))
    return places, refusals


def _place(survey: Survey, bed: Bed, sowing: Sowing, strips: tuple[int, ...]) -> Place:
    planting, near = survey.planting(bed.name, sowing, strips), survey.near(bed).plantings
    here = [other for other in near if other.bed == bed.name]
    first, last = period_of(planting.start), period_of(planting.clear)
    standing = [o for o in here if period_of(o.start) <= last and period_of(o.clear) >= first]
    taken = {strip for other in standing for strip in other.strips} | set(strips)
    cover = survey.garden.catalogue.cover(bed.cover)
    later = [other.start for other in here if set(other.strips) & set(strips) and period_of(other.start) > last]
    return Place(
        planting=planting,
        shade=noon_shade(survey.garden, planting, near),
        sun=survey.sun.least(planting),
        free_strips=tuple(strip for strip in strips_of(bed) if strip not in taken),
        free_until=min(later, default=None),
        rest_years=_rest_years(survey.garden, planting, here),
        crop_share=crop_share(planting, survey.garden.crops[planting.crop], cover, survey.garden.scenario.site),
        remarks=_remarks(survey.garden, planting, here),
    )


def _how_near(refusal: Refusal) -> tuple[int, int, int]:
    """Rank refusals: fewest rules in the way, then most strips free, then the earliest start."""
    barred = {strip for hindrance in refusal.hindrances for strip in hindrance.strips}
    rules = {hindrance.claim.rule for hindrance in refusal.hindrances}
    return len(rules), len(barred), refusal.planting.start.toordinal()


def _rest_years(garden: Garden, planting: Planting, here: list[Planting]) -> int | None:
    """Return the complete years without the family between the planting and the nearest other visit to its bed."""
    south, family = garden.scenario.site.south, garden.graph.family_of(planting.crop)
    stays = [stay_of(other, south) for other in here if garden.graph.family_of(other.crop) == family]
    stays += [
        stay_before(past, south)
        for past in garden.scenario.past_in(planting.bed)
        if garden.graph.family_of(past.crop) == family
    ]
    rests = [stay_of(planting, south).rest_to(stay) for stay in stays]
    return min((rest for rest in rests if rest is not None), default=None)


def _remarks(garden: Garden, planting: Planting, here: list[Planting]) -> tuple[Remark, ...]:
    """Return what sources say of the crop after the one that stood in its strips last."""
    before = [other for other in here if other.clear < planting.start and set(other.strips) & set(planting.strips)]
    if not before:
        return ()
    last, diseases = max(before, key=lambda other: other.clear), garden.beds[planting.bed].diseases
    return tuple(
        dict.fromkeys(
            Remark(crop=planting.crop, after=last.crop, effect=said.effect, evidence=said.strength)
            for said in garden.graph.said_of_order(last.crop, planting.crop)
            if said.effect != "mixed" and (not said.only_where or {*said.only_where} & {*diseases})
        )
    )
