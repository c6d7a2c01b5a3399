"""Whole screens as a reader sees them; ROTASOLVE_REWRITE_GOLDEN=1 writes them anew, to be read before committing."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.plan import Plan
from rotasolve.domain.scenario import Scenario
from rotasolve.views.pages.crop_card import crop_card, crop_list
from rotasolve.views.pages.page import plan_page
from rotasolve.views.words.layout import columns_of
from rotasolve.views.words.look import Look
from rotasolve.views.words.summary import summary_page

Golden = Callable[[str, str], None]
WIDTHS = (50, 80, 120)


@pytest.mark.parametrize("width", WIDTHS)
def test_plan_page(golden: Golden, scenario: Scenario, catalogue: Catalogue, plan: Plan, width: int) -> None:
    text = plan_page(scenario, catalogue, plan, Look(width))
    assert all(columns_of(line) <= width for line in text.splitlines())
    golden(f"plan_{width}", text)


def test_plan_page_in_ascii_and_inches(golden: Golden, scenario: Scenario, catalogue: Catalogue, plan: Plan) -> None:
    text = plan_page(scenario, catalogue, plan, Look(80, plain=True, inches=True), years=[2027], beds=["long bed"])
    assert text.isascii()
    golden("plan_ascii_inches", text)


@pytest.mark.parametrize("width", WIDTHS)
def test_summary(golden: Golden, scenario: Scenario, width: int) -> None:
    golden(f"summary_{width}", summary_page(scenario, Look(width)))


@pytest.mark.parametrize("width", WIDTHS)
def test_crop_card(golden: Golden, catalogue: Catalogue, width: int) -> None:
    golden(f"crop_card_{width}", crop_card(catalogue.crop("kale"), catalogue, Look(width)))


@pytest.mark.parametrize("width", WIDTHS)
def test_crop_list(golden: Golden, catalogue: Catalogue, width: int) -> None:
    golden(f"crop_list_{width}", crop_list(catalogue, Look(width)))
