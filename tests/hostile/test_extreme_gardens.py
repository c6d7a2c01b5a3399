"""Small gardens at the ends of what may be written down: all is answered or refused, and the referee agrees."""

from __future__ import annotations

import json
import random
import time
from pathlib import Path

import pytest

from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenarios import read_scenario
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.ground.plantings import planting_of
from tests.helpers.extreme_gardens import extreme_garden
from tests.helpers.in_process import call

CASES = 8
NIGHTLY_CASES, NIGHTLY_SECONDS = 1000, 1800.0
TWO_STARTS = {
    "format": 1,
    "title": "Two starts of lettuce on one day",
    "site": {
        "latitude": 0,
        "last_frost": {"half": "17 April"},
        "first_frost": {"half": "15 August"},
        "climate": {
            "mean_minima_c": [20.5, 19.6, 19.8, 20, 20.2, 19.6, 20.5, 19.6, 19.8, 20, 20.2, 20.4],
            "mean_maxima_c": [28.5, 27.6, 27.8, 28, 28.2, 27.6, 28.5, 27.6, 27.8, 28, 28.2, 28.4],
        },
    },
    "first_year": 2028,
    "years": 1,
    "beds": [{"name": "bed", "length": "1 m", "width": "1.2 m"}],
    "units": "inches",
    "household": {"targets": [{"crop": "leaf lettuce", "kg": 1, "weight": 3}]},
}


def ask_everything(fields: dict[str, object], folder: Path) -> int:
    """Plan a garden and ask every question about it; return how many were asked."""
    file, plan = folder / "garden.yaml", folder / "plan.json"
    file.write_text(json.dumps(fields), encoding="utf-8")
    crop = fields["household"]["targets"][0]["crop"]  # type: ignore[index]
    questions: list[tuple[object, ...]] = [
        ("check", file),
        ("season", file, crop),
        ("where", file, crop),
        ("clash", file),
        ("sun", file, "--month", "June"),
        ("plan", file, "--effort", "0.2", "-q", "-o", plan, "--force"),
    ]
    statuses = [answered(question) for question in questions]
    if statuses[-1] == 0:
        about = ("supply", "calendar", "water", "shopping", "show")
        questions += [(name, file, plan) for name in about]
        questions += [("report", file, plan, "-o", "-"), ("shortfall", file, plan, crop, "--seconds", "30")]
        for question in questions[6:]:
            answered(question)
        assert answered(("referee", file, plan)) == 0
    return len(questions)


def answered(question: tuple[object, ...]) -> int:
    told = call(*question)
    assert told.status in (0, 1, 2), (question, told.stderr)
    assert "defect of rotasolve" not in told.stderr, (question, told.stderr)
    assert told.status != 2 or told.stderr.strip(), question
    return told.status


@pytest.mark.parametrize("seed", range(CASES))
def test_extreme_gardens(seed: int, tmp_path: Path) -> None:
    assert ask_everything(extreme_garden(random.Random(seed)), tmp_path) >= 6


@pytest.mark.nightly
def test_extreme_gardens_by_night(tmp_path: Path) -> None:
    end = time.monotonic() + NIGHTLY_SECONDS
    for seed in range(CASES, NIGHTLY_CASES):
        if time.monotonic() > end:
            break
        try:
            ask_everything(extreme_garden(random.Random(seed)), tmp_path)
        except AssertionError as odd:
            raise AssertionError(f"garden {seed}: {odd}") from odd


def test_a_plan_means_the_start_that_was_offered(tmp_path: Path) -> None:
    """Near the equator two starts of one way share days: the solver counted one, the referee the other."""
    file = tmp_path / "garden.yaml"
    file.write_text(json.dumps(TWO_STARTS), encoding="utf-8")
    catalogue = load_catalogue()
    garden = make_garden(read_scenario(file, catalogue), catalogue)
    sowings = {choice.sowing for choice in garden.choices}
    assert sowings
    for sowing in sowings:
        assert garden.percent_of(planting_of(garden, "bed", sowing, (1, 2))) == sowing.course.share_percent
