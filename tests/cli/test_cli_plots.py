"""``plots`` and ``share``: exit status, table, JSON, files; engines have tests of their own."""

from __future__ import annotations

import csv
import json
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import Result

from tests.helpers.many_plots import EFFORT, Here, garden_text, write_gardens

Run = Callable[..., Result]
Plots = Callable[..., Result]


@pytest.fixture
def gardens(tmp_path: Path) -> Path:
    return write_gardens(tmp_path / "gardens", 3)


@pytest.fixture
def plots(run: Run, gardens: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Plots:
    """Return a runner of ``plots`` on the gardens, which plans in this process."""

    def invoke(*more: object, most: int = 1000) -> Result:
        monkeypatch.setattr("rotasolve.cli.plots._engine", lambda *asked: Here(most))
        return run("plots", gardens, "-o", tmp_path / "plans", "--effort", EFFORT, *more)

    return invoke


def test_a_table_of_all_gardens_and_plans_that_other_commands_read(
    plots: Plots, run: Run, gardens: Path, tmp_path: Path
) -> None:
    done = plots()
    assert done.exit_code == 0, done.stderr
    lines = done.stdout.splitlines()
    assert [line.split()[0] for line in lines if line.startswith("plot-")] == ["plot-00", "plot-01", "plot-02"]
    assert lines[-1] == "3 gardens: 3 planned."
    assert "plots.csv" in done.stderr
    plan = tmp_path / "plans" / "plot-01.plan.json"
    assert run("referee", plan).exit_code == 0  # it knows its scenario
    # The same as alone.
    (tmp_path / "alone").mkdir()
    alone = tmp_path / "alone" / "plan.json"
    run("plan", gardens / "plot-01.yaml", "--effort", EFFORT, "-q", "-o", alone)
    assert alone.read_bytes() == plan.read_bytes()


def test_a_shipped_garden_is_known_by_its_name(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("rotasolve.cli.plots._engine", lambda *asked: Here())
    assert run("plots", "cold-frame", "-o", tmp_path / "plans", "--effort", 0.3, "-q").exit_code == 0
    plan = tmp_path / "plans" / "cold-frame.plan.json"
    assert json.loads(plan.read_text(encoding="utf-8"))["scenario_file"] == "cold-frame"
    assert run("referee", plan).exit_code == 0


def test_faults_are_listed_at_the_end(plots: Plots, gardens: Path) -> None:
    (gardens / "plot-01.yaml").write_text("format: 1\ntitle: [bold]x\n", encoding="utf-8")
    done = plots()
    assert done.exit_code == 1
    assert "3 gardens: 2 planned, 1 with faults." in done.stdout
    faults = done.stdout.partition("What stands against the others:")[2]
    assert "plot-01.yaml:2:" in faults.replace("\n  ", "")


def test_stopped_it_says_how_to_go_on(plots: Plots) -> None:
    done = plots(most=2)
    assert done.exit_code == 130
    assert "3 gardens: 1 still to be planned, 2 planned." in done.stdout
    assert "The same command goes on where it was." in done.stderr
    done = plots("-q")
    assert (done.exit_code, done.stderr) == (0, "")
    assert "3 gardens: 1 planned, 2 planned before." in done.stdout


def test_json_says_it_all(plots: Plots, gardens: Path) -> None:
    (gardens / "plot-02.yaml").write_text("no: garden\n", encoding="utf-8")
    done = plots("--json")
    answer = json.loads(done.stdout)
    assert (done.exit_code, answer["schema_version"], answer["stopped_early"]) == (1, 1, False)
    states = {garden["garden"]: garden["state"] for garden in answer["gardens"]}
    assert states == {"plot-00": "planned", "plot-01": "planned", "plot-02": "faults"}
    assert "plot-02.yaml:1:1: " in answer["gardens"][2]["faults"]
    assert answer["gardens"][0]["points_lost"] >= answer["gardens"][0]["points_lost_in_any_plan"]


def test_a_folder_for_plans_that_cannot_be_made_is_told_first(run: Run, gardens: Path, tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("mine", encoding="utf-8")
    for output in (tmp_path / "taken", tmp_path / "no" / "such" / "folder"):
        done = run("plots", gardens, "-o", output, "--seconds", 3000)
        assert (done.exit_code, done.stdout) == (2, "")
        assert "cannot be made" in done.stderr
    assert (tmp_path / "taken").read_text(encoding="utf-8") == "mine"


def test_limits_are_refused_as_plan_does(run: Run, gardens: Path, tmp_path: Path) -> None:
    done = run("plots", gardens, "-o", tmp_path / "plans", "--seconds", 3, "--effort", 1)
    assert done.exit_code == 2
    assert "not both" in done.output


def test_share_sums_the_gardens_that_have_plans(plots: Plots, run: Run, gardens: Path, tmp_path: Path) -> None:
    plots()
    (gardens / "plot-03.yaml").write_text(garden_text(3), encoding="utf-8")
    rows = tmp_path / "rows.csv"
    done = run("share", gardens, "--plans", tmp_path / "plans", "--csv", rows)
    assert done.exit_code == 1
    assert "3 gardens in 2027" in done.stdout
    assert "plot-03 is left out: " in done.stderr
    with rows.open(encoding="utf-8", newline="") as file:
        table = list(csv.DictReader(file))
    assert {row["garden"] for row in table} == {"plot-00", "plot-01", "plot-02"}
    assert len({row["id"] for row in table}) == len(table)
    answer = json.loads(run("share", gardens, "--plans", tmp_path / "plans", "--json").stdout)
    assert (answer["schema_version"], answer["gardens"]) == (1, 3)
    for summed in answer["sums"]:
        ours = [
            row for row in table if all(row[key] == summed[key] for key in ("kind", "from", "ware", "what", "unit"))
        ]
        assert sum(float(row["amount"]) for row in ours) == pytest.approx(summed["amount"], abs=0.002)
        assert len({row["garden"] for row in ours}) == summed["gardens"]
    assert run("share", gardens, "--plans", tmp_path / "plans", "--csv", rows).exit_code == 2
    done = run("share", gardens, "--plans", tmp_path / "plans", "--csv", gardens / "plot-01.yaml", "--force")
    assert (done.exit_code, "is the scenario itself" in done.stderr) == (2, True)


def test_share_refuses_what_cannot_be_summed(plots: Plots, run: Run, gardens: Path, tmp_path: Path) -> None:
    done = run("share", gardens, "--plans", tmp_path)
    assert (done.exit_code, done.stdout) == (2, "")
    assert "no garden has a plan that can be used" in done.stderr
    south = (gardens / "plot-02.yaml").read_text(encoding="utf-8").replace("latitude: 52", "latitude: -52")
    south = south.replace("5 May", "5 November").replace("15 October", "15 April")
    (gardens / "plot-02.yaml").write_text(south, encoding="utf-8")
    assert plots().exit_code == 0
    done = run("share", gardens, "--plans", tmp_path / "plans")
    assert (done.exit_code, done.stdout) == (2, "")
    assert "sum one kind" in done.stderr
