"""A scenario on one screen: what it plans, on what ground, with which crops."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import MONTHS, say_year
from rotasolve.domain.strips import strip_depth_cm, strips_in_bed
from rotasolve.relations.season.frosts import frosts_of
from rotasolve.views.words.estimates import say_estimate
from rotasolve.views.words.layout import Column, heading, table, wrap
from rotasolve.views.words.own_yields import say_own_yields
from rotasolve.views.words.wording import TIED, clean, say_count, say_length, say_number

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rotasolve.domain.scenario import Scenario
    from rotasolve.domain.site import Frost
    from rotasolve.views.words.look import Look

_SQUARE_FEET_PER_M2 = 1 / 0.3048**2
BED_COLUMNS = (
    Column("Bed"),
    Column("Size", number=True),
    Column("Long side"),
    Column("Cover"),
    Column("Strips", number=True),
    Column("Depth of a strip", number=True),
    Column("Area", number=True),
)


def crops_in_plan(scenario: Scenario) -> tuple[str, ...]:
    """Return the crops a plan may use: with a target or a must-have, fixed, or allowed besides; each once."""
    household = scenario.household
    return tuple(
        dict.fromkeys(
            [target.crop for target in household.targets]
            + [eats.crop for eats in household.eats]
            + [must.crop for must in household.must_have]
            + [pin.crop for pin in scenario.pinned]
            + list(scenario.also_allowed)
        )
    )


def area_m2(scenario: Scenario) -> float:
    """Return the area of all beds in m2."""
    return sum(bed.length * bed.width for bed in scenario.beds) / 10_000


def strips_in(scenario: Scenario) -> int:
    """Return the number of strips of all beds."""
    return sum(strips_in_bed(bed) for bed in scenario.beds)


def say_area(m2: float, look: Look) -> str:
    """Say an area in square metres or square feet."""
    return f"{say_number(m2 * _SQUARE_FEET_PER_M2, 0)}{TIED}sq{TIED}ft" if look.inches else f"{say_number(m2)}{TIED}m2"


def summary_page(
    scenario: Scenario,
    look: Look,
    facts: Iterable[tuple[str, str]] = (),
    remarks: Iterable[str] = (),
    understood: str = "",
) -> str:
    """Return a scenario's summary, with more facts, then remarks and what was understood, then the beds."""
    lines = heading(clean(scenario.title), look, "=")
    for name, said in (*summary_facts(scenario, look), *facts):
        lines += wrap(f"{name}: {said}", look.text_width, "", "  ")
    for remark in remarks:
        lines += ["", *wrap(remark, look.text_width)]
    lines += understood.rstrip("\n").split("\n") if understood else []
    lines += ["", *table(BED_COLUMNS, bed_cells(scenario, look), look), ""]
    lines += wrap(f"Crops: {', '.join(crops_in_plan(scenario)) or 'none'}", look.text_width, "", "  ")
    return "\n".join(lines) + "\n"


def summary_facts(scenario: Scenario, look: Look) -> list[tuple[str, str]]:
    """Return what a scenario plans, on what ground and with how much known, each fact with its name."""
    site, south = scenario.site, scenario.site.south
    years = [say_year(year, south) for year in (scenario.planned_years[0], scenario.planned_years[-1])]
    crops = crops_in_plan(scenario)
    last_frost, first_frost = frosts_of(site)
    latitude = f"{say_number(abs(site.latitude), 2)} degrees {'south' if south else 'north'}"
    estimate = say_estimate(site)
    return [
        ("Years", f"{scenario.years} ({years[0]}{f' to {years[1]}' if scenario.years > 1 else ''})"),
        (
            "Site",
            f"{f'{site.name}, ' if site.name else ''}{latitude}; "
            f"strips are counted from the {'south' if south else 'north'} side",
        ),
        (
            "Frost",
            f"the last {_say_frost(last_frost)}, the first {_say_frost(first_frost)}"
            + ("" if site.last_frost and site.first_frost else ", worked out from the monthly means"),
        ),
        *([("Climate", estimate)] if estimate else []),
        (
            "Ground",
            f"{say_count(len(scenario.beds), 'bed')}, {say_count(strips_in(scenario), 'strip')}, "
            f"{say_area(area_m2(scenario), look)}",
        ),
        ("Crops", f"{len(crops)}, {say_count(_targets_in(scenario), 'target')}"),
        (
            "Known from before",
            f"{say_count(len(scenario.history), 'planting')}; "
            f"fixed by you: {say_count(len(scenario.pinned), 'planting')}",
        ),
        *([("Yields", own)] if (own := say_own_yields(scenario)) else []),
    ]


def bed_cells(scenario: Scenario, look: Look) -> list[tuple[str, ...]]:
    """Return a row of ``BED_COLUMNS`` for each bed."""
    return [
        (
            bed.name,
            f"{say_length(bed.length, look)} x {say_length(bed.width, look)}",
            bed.runs,
            bed.cover,
            str(strips_in_bed(bed)),
            say_length(strip_depth_cm(bed), look),
            say_area(bed.length * bed.width / 10_000, look),
        )
        for bed in scenario.beds
    ]


def _targets_in(scenario: Scenario) -> int:
    household = scenario.household
    return len({target.crop for target in household.targets} | {eats.crop for eats in household.eats})


def _say_frost(frost: Frost) -> str:
    month, day = frost.half
    return f"about {day} {MONTHS[month - 1]}"
