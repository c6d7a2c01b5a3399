"""What a grower should know about a scenario although nothing in it is wrong."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.measures import say_metric
from rotasolve.domain.scenario import MANURE_DAYS_CLEAR, MANURE_DAYS_TOUCHING
from rotasolve.domain.seasons import MONTHS, say_year
from rotasolve.domain.site import DEFAULT_SPREAD_DAYS
from rotasolve.domain.strips import say_strips
from rotasolve.recount.families import restings, years_not_on_record
from rotasolve.recount.ground import cut_of
from rotasolve.relations.ground.lie_of_beds import TROPIC_DEGREES
from rotasolve.relations.season.frost_warnings import early_start
from rotasolve.relations.season.frosts import frosts_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.scenario import Scenario

WIDEST_REACH_CM = 125.0
"""A bed reached from both sides is seldom wider: about 60 cm of arm from each, and a little more."""
FULL_SUN_HOURS = 6.0
"""Penn State Extension, Planting in Sun or Shade: full sun is 6 hours a day or more."""


def warnings_of(scenario: Scenario, catalogue: Catalogue) -> tuple[str, ...]:
    """Return sentences about wide beds, closed beds, missing history, assumed frost spread, shade and manure.

    Parameters
    ----------
    scenario
        A scenario that has passed its checks.
    catalogue
        The catalogue it was read with.
    """
    return (
        *_wide_beds(scenario),
        *_closed_beds(scenario, catalogue),
        *_diseases_not_on_record(scenario, catalogue),
        *_missing_history(scenario, catalogue),
        *_assumed_frost(scenario),
        *_frost_from_nights(scenario),
        *_early_pins(scenario, catalogue),
        *_equator(scenario),
        *_manure(scenario),
        *_shade_unknown(scenario),
    )


def _wide_beds(scenario: Scenario) -> Iterator[str]:
    for bed in scenario.beds:
        narrow = min(bed.length, bed.width)
        if narrow > WIDEST_REACH_CM:
            yield (
                f"Bed '{bed.name}' is {say_metric(narrow)} wide: more than can be reached from both sides "
                f"({say_metric(WIDEST_REACH_CM)}) without stepping on it."
            )
        if bed.width > bed.length:
            yield (
                f"Bed '{bed.name}' is wider ({say_metric(bed.width)}) than long ({say_metric(bed.length)}): "
                f"its length runs {bed.runs}; check that the two are not exchanged."
            )


def _closed_beds(scenario: Scenario, catalogue: Catalogue) -> Iterator[str]:
    for bed in scenario.beds:
        for disease in dict.fromkeys(bed.diseases):
            # One disease may be described several times, once for each source.
            closing = [pathogen for pathogen in catalogue.pathogens if pathogen.name == disease and pathogen.closes]
            hosts = dict.fromkeys(host.removeprefix("family:") for pathogen in closing for host in pathogen.hosts)
            if hosts:
                yield f"Bed '{bed.name}' is closed to {', '.join(hosts)}, because {disease} is in its soil."


def _diseases_not_on_record(scenario: Scenario, catalogue: Catalogue) -> Iterator[str]:
    south = scenario.site.south
    for bed in scenario.beds:
        strips = range(1, cut_of(bed).strips + 1) if scenario.rules.rotation == "strip" else (0,)
        for group in restings(catalogue, scenario, bed):
            if not group.disease or group.closes:
                continue
            lacking: dict[tuple[int, ...], list[int]] = {}
            for strip in strips:
                lacking.setdefault(tuple(years_not_on_record(scenario, bed.name, strip, group.gap)), []).append(strip)
            for years, where in lacking.items():
                if years:
                    ground = f"Bed '{bed.name}'" + (f", {say_strips(where)}," if where != [0] else "")
                    said = ", ".join(say_year(year, south) for year in years)
                    yield (
                        f"{ground} is closed to hosts of {group.name} up to and with "
                        f"{say_year(years[-1] + group.gap, south)}: the disease is known there, hosts must stay away "
                        f"for {group.gap} complete years, and what grew in {said} is not on record. Write it under "
                        f"'history'; where nothing did, write 'history_since: {years[0]}' in the bed."
                    )


def _missing_history(scenario: Scenario, catalogue: Catalogue) -> Iterator[str]:
    south = scenario.site.south
    gap = scenario.rules.family_gap
    if gap is None:
        gap = max((family.gap_hard for family in catalogue.families if family.rest), default=0)
    if gap == 0:
        return
    needed = set(range(scenario.first_year - gap, scenario.first_year))
    if not any(past.year in needed for past in scenario.history):
        yield "No history given: the first year is free, as if every bed had rested before."
        return
    lacking = []
    for bed in scenario.beds:
        lost = sorted(needed - {past.year for past in scenario.history if past.bed == bed.name})
        if lost:
            lacking.append(f"'{bed.name}' ({', '.join(say_year(year, south) for year in lost)})")
    if lacking:
        yield f"No history given for {', '.join(lacking)}: those years count as free."


def _assumed_frost(scenario: Scenario) -> Iterator[str]:
    site = scenario.site
    for name, frost in (("last frost", site.last_frost), ("first frost", site.first_frost)):
        if frost is not None and frost.safe is None and frost.spread_days is None:
            yield (
                f"How much the {name} varies from year to year is not given: a spread (standard deviation) of "
                f"{DEFAULT_SPREAD_DAYS:g} days is assumed."
            )


def _frost_from_nights(scenario: Scenario) -> Iterator[str]:
    site = scenario.site
    for name, given, worked_out in zip(
        ("last frost", "first frost"), (site.last_frost, site.first_frost), frosts_of(site), strict=True
    ):
        if given is None:
            month, day = worked_out.half
            yield (
                f"The {name} is worked out from the mean nights: about {day} {MONTHS[month - 1]} in one year of two, "
                f"with an assumed spread (standard deviation) of {DEFAULT_SPREAD_DAYS:g} days; "
                "give the date if you know it."
            )


def _early_pins(scenario: Scenario, catalogue: Catalogue) -> Iterator[str]:
    covers = {bed.name: catalogue.cover(bed.cover) for bed in scenario.beds}
    for pin in scenario.pinned:
        warning = early_start(catalogue.crop(pin.crop), pin.start, covers[pin.bed], scenario.site)
        if warning is not None:
            days = f"{warning.days_early} day{'' if warning.days_early == 1 else 's'}"
            yield (
                f"Pinned {pin.crop} in '{pin.bed}': {pin.start.day} {MONTHS[pin.start.month - 1]} is {days} before the "
                f"last frost of 1 year in 2: in {warning.frost_percent} years of 100 frost still comes and kills it."
            )


def _equator(scenario: Scenario) -> Iterator[str]:
    if abs(scenario.site.latitude) < TROPIC_DEGREES and scenario.rules.height_order:
        yield (
            f"Between the tropics (latitude {scenario.site.latitude:g}) shade falls to both sides in the course of the "
            "year: crops are not ordered by height."
        )


def _manure(scenario: Scenario) -> Iterator[str]:
    rules = scenario.rules
    if rules.manure_days_touching < MANURE_DAYS_TOUCHING or rules.manure_days_clear < MANURE_DAYS_CLEAR:
        yield (
            f"The days from raw manure to harvest are set to {rules.manure_days_touching} (touching soil) and "
            f"{rules.manure_days_clear} (not touching): less than the {MANURE_DAYS_TOUCHING} and {MANURE_DAYS_CLEAR} "
            "published in 7 CFR 205.203. Follow your local food-safety authority."
        )


def _shade_unknown(scenario: Scenario) -> Iterator[str]:
    if scenario.obstacles and not any(bed.is_placed for bed in scenario.beds):
        yield "No bed has a place (east and north): the obstacles cast shade on nothing."
    if scenario.rules.least_sun:
        for bed in scenario.beds:
            if bed.sun_hours is not None and bed.sun_hours < FULL_SUN_HOURS:
                yield (
                    f"Bed '{bed.name}' has {bed.sun_hours:g} h of sun a day in midsummer: crops that need more are "
                    "kept out of it ('rotasolve crops NAME' shows the least sun of a crop)."
                )
