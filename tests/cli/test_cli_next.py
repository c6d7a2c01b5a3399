"""``rotasolve next``: a new file, never the old one, planned on at once where a file is given for the plan."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenarios import read_scenario
from tests.cli.conftest import Run

GARDEN = """format: 1
title: Three beds
site: {latitude: 52, last_frost: {half: 1 May}, first_frost: {half: 10 October}}
first_year: 2027  # a comment
years: 2
beds:
  - {name: bed, length: 2.4 m, width: 1.2 m}
  - {name: other, length: 2.4 m, width: 1.2 m}
  - {name: third, length: 2.4 m, width: 1.2 m}
household:
  targets:
    - {crop: garlic, kg: 0.5}
    - {crop: kale, kg: 1}
    - {crop: beetroot, kg: 2}
"""


@pytest.fixture
def old(tmp_path: Path, run: Run) -> Path:
    garden = tmp_path / "garden.yaml"
    garden.write_text(GARDEN)
    assert run("plan", garden, "--effort", 1, "-q", "-o", tmp_path / "garden.plan.json").exit_code == 0
    return garden


def test_the_next_year_is_written_and_planned_on(run: Run, old: Path, tmp_path: Path) -> None:
    new, plan = tmp_path / "next.yaml", tmp_path / "next.plan.json"
    (tmp_path / "garden.diary.txt").write_text("2027-08-01 disease seen clubroot on kale, bed\n")
    before = old.read_bytes()
    asked = ("next", old, tmp_path / "garden.plan.json", "-o", new)
    done = run(*asked, "--plan", plan, "--effort", 1)
    assert done.exit_code == 0, done.stderr
    assert old.read_bytes() == before
    assert "taken to have happened as planned" in " ".join(done.stdout.split())
    assert "Seen in bed: clubroot" in done.stdout
    assert "the scenario is not the one" not in done.stderr
    place = read_scenario(new, load_catalogue())
    assert (place.first_year, place.years) == (2028, 2)
    assert [(one.bed, one.disease) for one in place.seen] == [("bed", "clubroot")]
    assert "first_year: 2028  # a comment" in new.read_text()
    assert run("referee", new, plan).exit_code == 0
    starts = {planting["start"][:4] for planting in json.loads(plan.read_text())["plantings"]}
    assert max(starts) >= "2028"
    told = json.loads(run(*asked, "--force", "--json").stdout)
    assert (told["first_year"], told["as_the_diary_tells"]) == (2028, 0)


def test_a_file_is_not_replaced_without_being_asked(run: Run, old: Path, tmp_path: Path) -> None:
    done = run("next", old, tmp_path / "garden.plan.json", "-o", old)
    assert (done.exit_code, done.stdout) == (2, "")
    assert "--force" in done.stderr
    assert old.read_text() == GARDEN


def test_limits_without_a_plan_are_refused(run: Run, old: Path, tmp_path: Path) -> None:
    done = run("next", old, tmp_path / "garden.plan.json", "-o", tmp_path / "new.yaml", "--seconds", 5)
    assert done.exit_code == 2
    assert "--plan" in done.stderr


def test_a_year_beyond_the_plan_is_said(run: Run, old: Path, tmp_path: Path) -> None:
    done = run("next", old, tmp_path / "garden.plan.json", "-o", tmp_path / "new.yaml", "--years", 5)
    assert done.exit_code == 2
    assert "after the years of this plan comes 2029" in " ".join(done.stderr.split())
    assert not (tmp_path / "new.yaml").exists()
