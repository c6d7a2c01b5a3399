"""Maps: bars begin and end in the right half months, and nothing odd in a plan breaks them."""

from __future__ import annotations

from datetime import date

import pytest

from rotasolve.domain.plan import Plan
from rotasolve.domain.scenario import Scenario
from rotasolve.views.pages.bed_map import bed_map, legend
from rotasolve.views.words.layout import columns_of
from rotasolve.views.words.look import Look

PLAIN = Look(80, plain=True)


def strips(scenario: Scenario, plan: Plan, bed: int, year: int, look: Look = PLAIN) -> list[str]:
    """Return the lines of strips without their label."""
    lines = bed_map(scenario, plan, scenario.beds[bed], year, look)
    return [line[6:] for line in lines if line[1:5].strip().isdigit()]


def test_bar_spans_its_half_months(scenario: Scenario, plan: Plan) -> None:
    # 16 May is half month 9 (from 0), 15 September half month 16: 9 free, 8 taken; garlic from 1 October, number 18.
    line = strips(scenario, plan, 0, 2027)[0]
    assert line == "." * 27 + "[summer squash" + "-" * 9 + "]" + "." * 3 + "[garlic" + "-" * 10 + ">"


def test_bar_goes_on_from_the_year_before(scenario: Scenario, plan: Plan) -> None:
    # Garlic is cleared on 15 July, half month 12: 13 half months of 3 columns.
    line = strips(scenario, plan, 0, 2028)[0]
    assert line == "<garlic" + "-" * 31 + "]" + "." * 33


def test_crop_left_from_before_the_plan_is_drawn(scenario: Scenario, plan: Plan) -> None:
    # Until 20 February, half month 3.
    assert strips(scenario, plan, 1, 2027)[1] == "<kale------]" + "." * 60


def test_names_are_cut_to_their_bar(scenario: Scenario, plan: Plan) -> None:
    short = plan.plantings[0].model_copy(update={"clear": date(2027, 5, 20)})
    line = strips(scenario, plan.model_copy(update={"plantings": (short,)}), 0, 2027)[0]
    assert line == "." * 27 + "[s]" + "." * 42


def test_two_crops_in_one_half_month_keep_the_line_whole(scenario: Scenario, plan: Plan) -> None:
    clashing = plan.plantings[1].model_copy(update={"strips": (1, 2), "start": date(2027, 6, 20)})
    odd = plan.model_copy(update={"plantings": (*plan.plantings, clashing)})
    assert {len(line) for line in strips(scenario, odd, 0, 2027)} == {72}


def test_strips_a_bed_does_not_have_are_left_out(scenario: Scenario, plan: Plan) -> None:
    odd = plan.plantings[0].model_copy(update={"strips": (99,)})
    lines = bed_map(scenario, plan.model_copy(update={"plantings": (odd,)}), scenario.beds[0], 2027, PLAIN)
    assert lines.count("  free all the year") == 2  # once for each part


@pytest.mark.parametrize("width", range(60, 161, 7))
def test_map_stays_inside_the_page(scenario: Scenario, plan: Plan, width: int) -> None:
    for bed in scenario.beds:
        assert all(columns_of(line) <= width for line in bed_map(scenario, plan, bed, 2027, Look(width)))


def test_south_begins_in_july_and_has_its_pole_side_south(scenario: Scenario, plan: Plan) -> None:
    south = scenario.model_copy(update={"site": scenario.site.model_copy(update={"latitude": -41.0})})
    lines = bed_map(south, plan, south.beds[0], 2027, PLAIN)
    assert any(line.startswith("strip Jul") for line in lines)
    assert any(line.startswith("S   1 ") for line in lines)
    assert "on the south side" in " ".join(legend(PLAIN, south=True))
