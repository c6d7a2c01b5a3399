"""Hypothesis strategies: random small gardens of the tiny crops, and random sets of their own sowings."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from hypothesis import strategies as st

from rotasolve.domain.bed import Bed
from rotasolve.domain.scenario import Scenario
from rotasolve.domain.seasons import MONTHS, last_day, period_of, year_start
from rotasolve.relations.ground.garden import Garden, make_garden
from tests.helpers.tiny import CATALOGUE, CROPS, FIRST_YEAR, bed, scenario, site

NAMES = tuple(crop.name for crop in CROPS)
LATITUDES = (50.0, -50.0, 10.0)
SUMMER: dict[str, Any] = {"fresh_from": "July", "fresh_to": "September"}
OFTEN = (
    {"hosts": "family:cabbages", "most": 1, "of_years": 2},
    {"hosts": "family:nightshades", "most": 2, "of_years": 4},
    {"hosts": "leek", "most": 1, "of_years": 3},
)


@st.composite
def grounds(draw: st.DrawFn) -> list[Bed]:
    """One or two beds of 1 to 3 strips, now and then in two parts, sick, or near one another, behind or beside."""
    count = draw(st.integers(1, 2))
    placed = count == 2 and draw(st.booleans())
    beside = placed and draw(st.booleans())
    east, north, found = 0.0, 0.0, []
    for name in ("bed", "other")[:count]:
        strips = draw(st.integers(1, 3))
        more: dict[str, Any] = {"diseases": draw(st.sampled_from([(), (), ("club root",), ("white rot",)]))}
        more["history_since"] = draw(st.sampled_from([None, FIRST_YEAR - 6, FIRST_YEAR - 2, FIRST_YEAR]))
        if draw(st.integers(0, 5)) == 0:
            more |= {"width": 240.0, "parts": 2}
        if placed:
            more |= {"east": east, "north": north}
            gap = draw(st.sampled_from([10, 30, 300]))
            east, north = (
                (east + more.get("width", 120.0) + gap, north) if beside else (east, north + 60 * strips + gap)
            )
        found.append(bed(name, strips, **more))
    return found


def _strips(draw: st.DrawFn, ground: Bed) -> tuple[int, ...]:
    strips = round(ground.depth_cm / 60) * (ground.parts or 1)
    return tuple(sorted(draw(st.sets(st.integers(1, strips), max_size=2))))


def _targets(draw: st.DrawFn, names: list[str]) -> list[dict[str, Any]]:
    """Draw a wish for each of the first two crops: by the year, fresh in summer now and then, or by the week."""
    return [
        {"crop": name, "weight": draw(st.integers(1, 5))}
        | draw(
            st.sampled_from(
                [
                    *({"kg": kg, **fresh} for kg in (1, 3, 8) for fresh in ({}, SUMMER)),
                    *({"kg_a_week": kg, **SUMMER} for kg in (0.1, 0.7)),
                ]
            )
        )
        for name in names[:2]
        if name != "clover"
    ]


@st.composite
def scenarios(draw: st.DrawFn, pins: bool = True, latitudes: tuple[float, ...] = LATITUDES) -> Scenario:
    """Draw a garden of 1 to 3 years with history, wishes, rules and, with ``pins``, a pinned planting."""
    beds = draw(grounds())
    latitude = draw(st.sampled_from(latitudes))
    names = draw(st.lists(st.sampled_from(NAMES), min_size=2, max_size=3, unique=True))
    where = st.sampled_from(beds)
    begin = year_start(FIRST_YEAR, latitude < 0)
    history = []
    for _ in range(draw(st.integers(0, 2))):
        ground = draw(where)
        old: dict[str, Any] = {
            "bed": ground.name,
            "crop": draw(st.sampled_from(names)),
            "strips": _strips(draw, ground),
        }
        old["year"] = draw(st.integers(FIRST_YEAR - 3, FIRST_YEAR))
        if old["year"] == FIRST_YEAR or draw(st.booleans()):
            # The last day of a half month: the model gives ground back by half months, the referee by days.
            old["until"] = last_day(period_of(begin) + draw(st.integers(0, 14)))
        history.append(old)
    must = []
    if draw(st.integers(0, 3)) == 0:
        must = [{"crop": draw(st.sampled_from(names)), "plants": draw(st.integers(1, 8))}]
        if draw(st.integers(0, 2)) == 0:
            must[0] = {"crop": must[0]["crop"], "kg": draw(st.sampled_from([0.5, 1.7, 4]))}
        must[0] |= draw(st.sampled_from([{}, {"year": FIRST_YEAR}, {"bed": beds[0].name}]))
    targets = _targets(draw, names)
    gap = draw(st.sampled_from([None, 0, 1, 2]))
    rules = {
        "rotation": draw(st.sampled_from(["bed", "bed", "strip"])),
        "family_gap": gap,
        "family_gap_wished": draw(st.sampled_from([None, 1, 3])),
        "family_once": draw(st.sampled_from([True, True, False, "except quick crops"])),
        "host_years": draw(st.sampled_from([(), (), OFTEN])),
        "height_order": draw(st.sampled_from([True, True, "by shadow", "by shadow", False])),
        "repeatable": draw(st.sampled_from([False, False, True])),
        "winter_cover": draw(st.sampled_from(["usual", "usual", "much", "not at all"])),
    }
    years = draw(st.integers(1, 3))
    rules["order_of_demand"] = draw(st.sampled_from(["usual", "usual", "much", "not at all"]))
    return scenario(
        names,
        beds,
        years,
        targets,
        must,
        latitude,
        household=draw(st.sampled_from([{}, {}, {"surplus": "welcome"}, {"meet_targets_at": "low yield"}])),
        history=history,
        rules=rules,
        pinned=_pins(draw, names, beds, latitude, years) if pins else (),
        **_told(draw, beds, begin),
    )


def _told(draw: st.DrawFn, beds: list[Bed], begin: date) -> dict[str, Any]:
    """Return nothing, now and then that a bed is closed for some weeks or for good, or that a disease was seen."""
    what = draw(st.integers(0, 11))
    if what > 1:
        return {}
    where, since = draw(st.sampled_from(beds)).name, begin + timedelta(days=draw(st.integers(-200, 400)))
    if what:
        disease = draw(st.sampled_from(["club root", "club root", "white rot"]))
        return {"seen": [{"bed": where, "disease": disease, "since": since}]}
    until = draw(st.sampled_from([None, since, since + timedelta(days=60)]))
    return {"closed": [{"bed": where, "since": since, "until": until}]}


def _pins(draw: st.DrawFn, names: list[str], beds: list[Bed], latitude: float, years: int) -> list[dict[str, Any]]:
    """Return no pin or one: on a day the crop may be started, or now and then beside it."""
    if draw(st.integers(0, 2)):
        return []
    ground = draw(st.sampled_from(beds))
    # One more year, so that winter crops harvested after the plan are pinned too.
    offered = make_garden(scenario(names, [ground], years + 1, latitude=latitude), CATALOGUE).choices
    end = year_start(FIRST_YEAR + years, latitude < 0)
    days = [(choice.sowing.crop, choice.sowing.start) for choice in offered if choice.sowing.start < end]
    if not days:
        return []
    crop, start = draw(st.sampled_from(sorted(set(days))))
    start += timedelta(days=draw(st.sampled_from([0, 0, 3])))
    plants = draw(st.sampled_from([None, None, 4, 6]))
    return [{"bed": ground.name, "crop": crop, "start": start, "strips": _strips(draw, ground), "plants": plants}]


@st.composite
def gardens(draw: st.DrawFn, pins: bool = True, latitudes: tuple[float, ...] = LATITUDES) -> Garden:
    """Draw a small garden modelled strip by strip."""
    return make_garden(draw(scenarios(pins, latitudes)), CATALOGUE, exact=True)


@st.composite
def gardens_with_plans(draw: st.DrawFn, most: int = 5) -> tuple[Garden, frozenset[int]]:
    """Draw a small garden and some of its own choices, pinned ones more often than others."""
    garden = draw(gardens())
    numbers = range(len(garden.choices))
    size = draw(st.integers(min(1, len(numbers)), min(most, len(numbers))))
    chosen = draw(st.sets(st.sampled_from(numbers), min_size=size, max_size=size)) if size else set()
    pinned = [number for number in numbers if garden.choices[number].sowing.pinned]
    often: bool = draw(st.booleans())
    if pinned and often:
        chosen |= set(draw(st.lists(st.sampled_from(pinned), max_size=3)))
    return garden, frozenset(chosen)


def southern_twin(north: Scenario) -> Scenario:
    """Return the same garden half a year and half a world away: pole sides, dates and fresh months mirrored."""
    beds = [
        ground if ground.north is None else ground.model_copy(update={"north": -(ground.north + ground.depth_cm)})
        for ground in north.beds
    ]
    history = [
        past if past.until is None else past.model_copy(update={"until": _half_a_year_later(past.until)})
        for past in north.history
    ]
    household = north.household.model_dump()
    for target in household["targets"]:
        for end in ("fresh_from", "fresh_to"):
            target[end] = target[end] and MONTHS[(target[end] + 5) % 12]
    fields = north.model_dump() | {
        "site": site(-north.site.latitude),
        "beds": [ground.model_dump() for ground in beds],
        "history": [past.model_dump() for past in history],
        "household": household,
    }
    return Scenario.model_validate(fields)


def _half_a_year_later(day: date) -> date:
    year, month = (day.year, day.month + 6) if day.month < 7 else (day.year + 1, day.month - 6)
    return date(year, month, min(day.day, 28))
