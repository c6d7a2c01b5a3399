"""Plantings as a grower writes them by hand: any strips, any day near the crop's window, any number of plants."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st

from rotasolve.domain.plan import Planting
from rotasolve.domain.scenario import Scenario
from rotasolve.domain.strips import strips_in_bed
from rotasolve.relations.ground.following import followed
from rotasolve.relations.ground.garden import Garden, make_garden
from tests.helpers.strategies import scenarios
from tests.helpers.tiny import CROPS, NOTHING, SPRING, catalogue, figure

WIDE = catalogue(
    [
        crop.model_copy(
            update={
                "starts": tuple(
                    begin.model_copy(
                        update={
                            "latest": begin.earliest.model_validate(figure((begin.earliest.value or 0) + 6, SPRING))
                        }
                    )
                    if begin.earliest.unit == SPRING
                    else begin
                    for begin in crop.starts
                )
            }
        )
        for crop in CROPS
    ]
)
"""The tiny crops, each to be started for six weeks on end, so that a day inside the window need not be on offer."""


def modest(examples: int) -> settings:
    """Return settings for a search behind every example: few of them, the same in every run."""
    return settings(
        max_examples=examples, derandomize=True, deadline=None, database=None, suppress_health_check=list(HealthCheck)
    )


@st.composite
def plantings(draw: st.DrawFn, garden: Garden) -> Planting:
    """Draw one planting of one of the garden's crops; whether it may stand is for the referee to say."""
    bed = draw(st.sampled_from(garden.scenario.beds))
    crop = garden.crops[draw(st.sampled_from(sorted(garden.wanted)))]
    strips = strips_in_bed(bed)
    first = draw(st.integers(1, strips))
    run = tuple(range(first, draw(st.integers(first, strips)) + 1))
    offered = [s.start for s in garden.sowings_by_bed[bed.name] if s.crop == crop.name]
    day = draw(st.sampled_from(sorted(set(offered)))) if offered else garden_day(garden)
    fields: dict[str, Any] = {"bed": bed.name, "strips": run, "crop": crop.name, "way": crop.starts[0].way}
    fields |= {"start": day + timedelta(days=draw(st.sampled_from([0, 0, 0, 3, 5, -2]))), "rows": 1}
    fields |= {"plants": draw(st.integers(1, 4 * len(run) + draw(st.sampled_from([0, 0, 0, 1])))), "harvest": NOTHING}
    whole = followed(garden, Planting(**fields, clear=fields["start"]), frozenset({"clear"}))
    cut = timedelta(days=draw(st.sampled_from([0, 0, 0, 4, 11, 30])))
    return followed(garden, whole.model_copy(update={"clear": max(whole.start, whole.clear - cut)}))


def garden_day(garden: Garden) -> Any:
    """Return some day of the plan, for a crop that is never on offer."""
    from rotasolve.domain.seasons import year_start

    return year_start(garden.scenario.first_year, garden.scenario.site.south) + timedelta(days=130)


@st.composite
def gardens_by_hand(draw: st.DrawFn) -> tuple[Scenario, tuple[Planting, ...]]:
    """Draw a small garden without demands, and one to five plantings by hand, no two of them the same."""
    scenario = draw(scenarios(pins=False))
    household = scenario.household.model_copy(update={"must_have": ()})
    scenario = scenario.model_copy(update={"household": household})
    garden = make_garden(scenario, WIDE)
    found = draw(st.lists(plantings(garden), min_size=1, max_size=5))
    return scenario, tuple(dict.fromkeys(found))
