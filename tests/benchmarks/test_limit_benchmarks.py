"""``--seconds`` is kept at eight sizes of garden, building, solving and the referee's time included."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from tests.helpers.in_process import call

pytestmark = pytest.mark.bench
SIZES = ((1, 1), (2, 3), (4, 3), (8, 3), (18, 3), (40, 3), (70, 5), (100, 10))
"""Beds and years."""
SECONDS = 10.0
GRACE_SECONDS = 5.0
"""Reading, and showing a plan of many plantings."""
CROPS = ("carrot", "kale", "onion", "potato", "pea", "leaf lettuce", "beetroot", "tomato")
GARDEN = """\
format: 1
title: {beds} beds
site: {{latitude: 52, last_frost: {{half: 5 May}}, first_frost: {{half: 15 October}}}}
first_year: 2027
years: {years}
beds:
{listed}
household:
  targets:
{targets}
"""


@pytest.mark.parametrize(("beds", "years"), SIZES)
def test_the_limit_is_kept(beds: int, years: int, tmp_path: Path) -> None:
    listed = "\n".join(f"  - {{name: bed {number}, length: 4 m, width: 1.2 m}}" for number in range(beds))
    targets = "\n".join(f"    - {{crop: {crop}, kg: {2 * beds}}}" for crop in CROPS)
    garden = tmp_path / "garden.yaml"
    garden.write_text(GARDEN.format(beds=beds, years=years, listed=listed, targets=targets), encoding="utf-8")
    begun = time.monotonic()
    told = call("plan", garden, "--seconds", SECONDS, "-q")
    assert told.status in (0, 2), told.stderr
    assert time.monotonic() - begun <= SECONDS + GRACE_SECONDS
