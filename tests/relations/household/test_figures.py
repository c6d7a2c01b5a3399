"""Figures of plans, by hand."""

from __future__ import annotations

from datetime import date

import pytest

from rotasolve.domain.comparison import Difference, WorkLoad
from rotasolve.domain.seasons import period_of
from rotasolve.referee import blank_plan
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.household.figures import DAYS_PER_MONTH, differences, plan_figures, work_of
from tests.helpers.tiny import CATALOGUE, bed, planting, scenario

LETTUCE = planting("lettuce", (1,), "2027-05-08", "2027-07-31", "2027-07-07")
KALE = planting("kale", (1, 2), "2027-07-17", "2027-09-30", "2027-09-05", raise_from="2027-06-05", way="set out")


def test_ground_and_bed_months() -> None:
    # A bed of 2 strips, 0.72 m2 each: lettuce takes half of it for 85 days, kale all of it for 76.
    garden = make_garden(scenario(["lettuce", "kale"], [bed(), bed("other")]), CATALOGUE)
    figures = plan_figures(garden, blank_plan(garden.scenario, (LETTUCE, KALE)))
    assert figures.ground_m2 == 1.44
    assert figures.bed_months == pytest.approx((85 / 2 + 76) / DAYS_PER_MONTH, abs=0.01)


def test_work_is_counted_by_half_month() -> None:
    # Lettuce is sown in place in early May; kale indoors in early June, and set out in late July.
    days = [date(2027, 5, 8), date(2027, 6, 5), date(2027, 7, 17)]
    may, june, july = (period_of(day) for day in days)
    assert work_of([LETTUCE, KALE, LETTUCE]) == (
        WorkLoad(period=may, sowings=2),
        WorkLoad(period=june, sowings=1),
        WorkLoad(period=july, settings_out=1),
    )


def test_plans_differ_by_year_bed_and_crop() -> None:
    garden = make_garden(scenario(["lettuce", "kale"]), CATALOGUE)
    one = blank_plan(garden.scenario, (LETTUCE, KALE))
    other = blank_plan(garden.scenario, (LETTUCE, LETTUCE))
    assert differences([one, one], south=False) == ()
    assert differences([one, other], south=False) == (
        Difference(year=2027, bed="bed", crop="kale", plants=(8, 0)),
        Difference(year=2027, bed="bed", crop="lettuce", plants=(4, 8)),
    )
