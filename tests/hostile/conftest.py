"""A small garden with everything commands ask for, and a plan of it, made once."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.helpers.in_process import call
from tests.helpers.many_plots import Here

GARDEN = """\
format: 1
title: Zoë's 白菜 corner
site:
  latitude: 52
  last_frost: {half: 5 May}
  first_frost: {half: 15 October}
  climate:
    mean_minima_c: [0.8, 0.9, 2.2, 3.9, 6.8, 9.8, 11.9, 11.8, 9.7, 7.0, 3.9, 1.7]
    mean_maxima_c: [6.9, 7.8, 10.6, 13.7, 17.3, 20.4, 22.8, 22.4, 19.1, 14.6, 10.0, 7.2]
first_year: 2027
years: 1
beds:
  - {name: long bed, length: 1.8 m, width: 1.2 m, east: 0 m, north: 0 m}
household:
  people: 2
  targets:
    - {crop: carrot, kg: 1, weight: 5}
    - {crop: kale, kg: 1, weight: 5}
"""


@pytest.fixture(scope="session")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with garden.yaml, plan.json (as garden.plan.json too), a diary and an old table, to be copied."""
    folder = tmp_path_factory.mktemp("kept")
    (folder / "garden.yaml").write_text(GARDEN, encoding="utf-8")
    done = call("plan", folder / "garden.yaml", "--effort", 0.3, "-q", "-o", folder / "plan.json")
    assert done.status == 0, done.stderr
    shutil.copy(folder / "plan.json", folder / "garden.plan.json")
    (folder / "garden.diary.txt").write_text("2027-08-20 picked 0.2 kg carrot, long bed\n", encoding="utf-8")
    (folder / "old.csv").write_text("bed,crop,year\nlong bed,potato,2026\n", encoding="utf-8")
    return folder


@pytest.fixture(autouse=True)
def no_pool(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let many plots be planned in this process: what is on trial is the command."""
    monkeypatch.setattr("rotasolve.cli.plots._engine", lambda *asked: Here())
