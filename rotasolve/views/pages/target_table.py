"""What each wish for a harvest gets in one garden year, beside what was wished."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.views.words.layout import Column, table
from rotasolve.views.words.wording import TIED, say_counted, say_crop, say_kg, say_kg_range, say_number

if TYPE_CHECKING:
    from rotasolve.domain.plan import Plan, TargetOutcome
    from rotasolve.domain.scenario import Scenario, Words
    from rotasolve.views.words.look import Look

TARGET_COLUMNS = (
    Column("Crop"),
    Column("Wanted", number=True),
    Column("To keep", number=True),
    Column("Usual year", number=True),
    Column("Poor to good year", number=True),
    Column("Of the wish", number=True),
    Column("Fresh when wished"),
)


def target_table(scenario: Scenario, plan: Plan, year: int, look: Look) -> list[str]:
    """Return the lines of a year's targets, in the grower's order and words; no lines if there are none."""
    return table(TARGET_COLUMNS, target_cells(scenario, plan, year), look)


def target_cells(scenario: Scenario, plan: Plan, year: int) -> list[tuple[str, ...]]:
    """Return a row of ``TARGET_COLUMNS`` for each target of a year, in the grower's order and words."""
    return [_row(outcome, scenario.words) for outcome in plan.targets if outcome.year == year]


def _row(outcome: TargetOutcome, words: Words) -> tuple[str, ...]:
    share = outcome.counted_kg / outcome.wanted_kg if outcome.wanted_kg else 0.0
    wished, hit = outcome.fresh_half_months_wanted, outcome.fresh_half_months
    unit, each = outcome.counted_in, outcome.kg_per_unit
    in_poor_years = " in a poor year" if outcome.met_at == "low yield" else ""
    return (
        say_crop(outcome.crop, words),
        say_counted(outcome.wanted_kg, unit, each),
        say_kg(outcome.keep_kg) if outcome.keep_kg else "",
        say_counted(outcome.got.typical_kg, unit, each),
        say_kg_range(outcome.got),
        f"{say_number(share * 100, 0)}{TIED}%{in_poor_years}",
        f"{say_number(hit / 2)} of {say_number(wished / 2)} months" if wished else "",
    )
