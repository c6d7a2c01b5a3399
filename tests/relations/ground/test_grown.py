"""Heights through the season, by hand: never lower than a crop may be."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from rotasolve.domain.seasons import period_of
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.ground.grown import casting_height_cm, step_up
from tests.helpers.tiny import crop

START = date(2027, 4, 16)


@pytest.mark.parametrize(("half", "height"), [(0, 75), (1, 75), (2, 75), (3, 100), (8, 100)])
def test_without_published_stages_full_from_half_way(half: int, height: float) -> None:
    # 120 days to the first harvest; half months end 14, 29, 45 and 60 days after the start: three quarters until 60.
    ready = START + timedelta(days=120)
    assert casting_height_cm(crop("vine", "v", 100), START, ready, period_of(START) + half) == height


def test_with_published_stages_by_hand() -> None:
    # FAO-56 table 11, tomato: 30 initial, 40 development, 45 middle days. Over 115 days to the first harvest the
    # crop is established after 30 and half developed after 50 days.
    tomato = load_catalogue().crop("tomato")
    assert tomato.water is not None
    days = (tomato.water.initial_days, tomato.water.development_days, tomato.water.middle_days)
    assert days == (30, 40, 45)
    ready, full = START + timedelta(days=115), tomato.height.usual
    found = [casting_height_cm(tomato, START, ready, period_of(START) + half) / full for half in range(5)]
    # Half months end 14, 29, 45, 60 and 75 days after the start.
    assert found == [0.5, 0.5, 0.75, 1, 1]


@pytest.mark.parametrize(("height", "step"), [(0, 50), (50, 50), (50.1, 100), (101, 150), (301, 400), (410.2, 411)])
def test_steps_are_rounded_up(height: float, step: int) -> None:
    assert step_up(height) == step
