"""Warmth, standing and winter: complete, and as published where somebody measured."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.figure import Figure


def _usual(figure: Figure | None) -> float:
    assert figure is not None
    return figure.usual


def test_every_crop_has_its_trapezoid_of_warmth_and_its_degree_days(catalogue: Catalogue) -> None:
    # What stays for years is told where it stands: its years are counted in plain days, no start of it is weighed.
    for crop in (crop for crop in catalogue.crops if crop.stays is None):
        assert crop.growth_least is not None, crop.name
        assert crop.growth_best is not None, crop.name
        assert crop.growth_most is not None, crop.name
        assert crop.degree_days is not None, crop.name
        corners = (crop.growth_least.usual, crop.growth_best.least, crop.growth_best.most, crop.growth_most.usual)
        assert all(left < right for left, right in pairwise(corners)), crop.name


# S05 (Maynard and Hochmuth): optimum and maximum of the monthly mean, printed in degrees F.
@pytest.mark.parametrize(
    ("crop", "best_f", "most_f"),
    [
        ("leek", (55, 75), 85),
        ("kale", (60, 65), 75),
        ("potato", (60, 65), 75),
        ("bush bean", (60, 70), 80),
        ("sweet corn", (60, 75), 95),
        ("pumpkin", (65, 75), 90),
        ("tomato", (70, 75), 80),
        ("aubergine", (70, 85), 95),
    ],
)
def test_the_classes_of_the_handbook(catalogue: Catalogue, crop: str, best_f: tuple[int, int], most_f: int) -> None:
    found = catalogue.crop(crop)
    assert found.growth_best is not None
    ends = (found.growth_best.least, found.growth_best.most, _usual(found.growth_most))
    assert ends == pytest.approx([(f - 32) / 1.8 for f in (*best_f, most_f)], abs=0.06)


def test_tomatoes_grow_in_an_english_summer(catalogue: Catalogue) -> None:
    # The warmest month of southern England has a mean of some 17.6 degrees C; outdoor tomatoes ripen there (E01, E34).
    climate = next(one.climate for one in catalogue.reference_climates if one.name == "southern England")
    warmest = max((low + high) / 2 for low, high in zip(climate.mean_minima_c, climate.mean_maxima_c, strict=True))
    for name in ("tomato", "sweet pepper", "cucumber", "summer squash", "sweet corn", "runner bean"):
        assert _usual(catalogue.crop(name).growth_least) < warmest - 4, name


def test_what_is_lifted_once_says_how_long_it_stands(catalogue: Catalogue) -> None:
    for crop in catalogue.crops:
        once = crop.picking == "once"
        assert (crop.standing_weeks is not None) == once, crop.name
        if once:
            assert crop.standing_weeks == crop.harvest_weeks, crop.name


def test_winter_crops_stand_long_and_quick_ones_short(catalogue: Catalogue) -> None:
    # E01, E11, E12, E31, E57: leek, parsnip, swede and celeriac stand for two months and more; E36, E59: radish and
    # sweet corn for a week or so.
    long = ("leek", "parsnip", "swede", "celeriac", "carrot")
    short = ("radish", "sweet corn", "cauliflower", "head lettuce", "kohlrabi")
    least_long = min(_usual(catalogue.crop(name).standing_weeks) for name in long)
    assert least_long >= 9
    assert max(_usual(catalogue.crop(name).standing_weeks) for name in short) <= 2


def test_kale_and_sprouts_are_picked_from_october_into_spring(catalogue: Catalogue) -> None:
    # E01: kale from October to April, 26 to 30 weeks; E03: Brussels sprouts from October to March, 17 to 26 weeks.
    kale, sprouts = catalogue.crop("kale"), catalogue.crop("Brussels sprouts")
    assert 26 <= kale.harvest_weeks.usual <= 30
    assert 17 <= sprouts.harvest_weeks.usual <= 26
    for crop in (kale, sprouts):
        assert crop.picking == "repeated"
        assert _usual(crop.stands_to) <= -6.7  # S29: both live through 20 degrees F


def test_what_dies_at_the_first_frost_stands_to_none(catalogue: Catalogue) -> None:
    for crop in catalogue.crops:
        if crop.hardiness.level in ("tender", "very tender") and crop.stands_to is not None:
            assert crop.stands_to.usual > -2, crop.name
        if crop.winter_loss is not None:
            assert _usual(crop.stands_to) < -2, crop.name


def test_the_reference_climates_have_the_printed_means(catalogue: Catalogue) -> None:
    # Ithaca, New York: means of March and May 1981-2010 as a newspaper blog printed them, 32.6 and 55.4 degrees F.
    # Missouri, 1895-2003 (an encyclopaedia's table): January 29.8, July 77.6, October 57.1 degrees F.
    # Cambridge Botanic Garden: mean highest temperature of January 7.4 degrees C.
    climates = {one.name: one.climate for one in catalogue.reference_climates}
    printed = {
        "northeastern United States": {3: 32.6, 5: 55.4},
        "midwestern United States": {1: 29.8, 7: 77.6, 10: 57.1},
    }
    for name, months in printed.items():
        for month, fahrenheit in months.items():
            mean = (climates[name].mean_minima_c[month - 1] + climates[name].mean_maxima_c[month - 1]) / 2
            assert math.isclose(mean, (fahrenheit - 32) / 1.8, abs_tol=0.7), (name, month)
    assert climates["southern England"].mean_maxima_c[0] == pytest.approx(7.4, abs=0.3)
