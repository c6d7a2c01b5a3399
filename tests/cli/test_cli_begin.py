"""``begin``: from options alone, from a conversation, and what it refuses."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from typer.testing import Result

from rotasolve.cli import answers

Run = Callable[..., Result]
GIVEN = (
    *("--latitude", "-41.3", "--last-frost", "5 October", "--first-frost", "15 May", "--first-year", "2027"),
    *("--bed", "gate bed,12 ft,4 ft,east-west,cold frame", "--bed", "bed: 2,4 m,1.2 m"),
    *("--crop", "eggplant,5", "--crop", "carrot 2.5 kg"),
)


def test_options_alone_make_a_scenario_that_checks(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "new.yaml"
    done = run("begin", file, *GIVEN, "--title", 'A "title": # yes', "--people", 3)
    assert (done.exit_code, done.stdout) == (0, "")
    checked = run("check", file)
    assert checked.exit_code == 0
    assert 'A "title": # yes' in checked.stdout
    assert "aubergine, carrot" in checked.stdout
    assert "2 beds" in checked.stdout


def test_everything_missing_is_listed_at_once(run: Run, tmp_path: Path) -> None:
    done = run("begin", tmp_path / "new.yaml")
    assert (done.exit_code, list(tmp_path.iterdir())) == (2, [])
    for option in ("--latitude", "--last-frost", "--first-frost", "--bed", "--crop"):
        assert f"{option} is missing" in done.stderr


def test_everything_wrong_is_listed_at_once(run: Run, tmp_path: Path) -> None:
    wrong = ("--latitude", "north", "--last-frost", "31 June", "--first-frost", "15 May", "--years", "99")
    done = run("begin", tmp_path / "new.yaml", *wrong, "--bed", "a,4,1 m", "--crop", "carott,5", "--crop", "kale")
    assert (done.exit_code, list(tmp_path.iterdir())) == (2, [])
    for part in (
        "'north' is not a latitude",
        "'31 June'",
        "from 1 to 10",
        "'4' is not a length",
        "mean 'carrot'",
        "kg",
    ):
        assert part in done.stderr


def test_crop_given_twice_is_refused(run: Run, tmp_path: Path) -> None:
    done = run("begin", tmp_path / "new.yaml", *GIVEN, "--crop", "aubergine,1")
    assert done.exit_code == 2
    assert "aubergine is given twice" in done.stderr


def test_never_over_a_file(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "old.yaml"
    file.write_text("old")
    assert run("begin", file, *GIVEN).exit_code == 2
    assert file.read_text() == "old"
    assert run("begin", file, *GIVEN, "--force").exit_code == 0


def test_nothing_but_yes_gives_an_example_that_says_so_and_can_be_planned(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "example.yaml"
    done = run("begin", file, "-y")
    assert (done.exit_code, done.stdout) == (0, "")
    assert "An example stands in for what nobody told: latitude, last frost" in done.stderr
    assert "# Taken as an example" in file.read_text()
    checked = run("check", file)
    assert checked.exit_code == 0
    assert "3 beds" in checked.stdout
    assert run("plan", file, "--effort", "1", "-q").exit_code == 0


def test_what_is_told_beside_yes_is_no_example(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "own.yaml"
    assert run("begin", file, *GIVEN, "-y").exit_code == 0
    taken = next(line for line in file.read_text().splitlines() if line.startswith("# Taken as an example"))
    assert taken == "# Taken as an example, for nobody answered: years, people. Put your own in their place."


@pytest.mark.parametrize(
    ("text", "degrees"), [("52.5", 52.5), ("41 S", -41.0), ("52,5 N", 52.5), ("-33.9", -33.9), ("12° south", -12.0)]
)
def test_latitudes(text: str, degrees: float) -> None:
    assert answers.read_latitude(text) == degrees


@pytest.mark.parametrize(
    ("day", "latitude", "year"),
    [
        (date(2027, 2, 1), 50.0, 2027),
        (date(2027, 11, 1), 50.0, 2028),
        (date(2027, 8, 1), -40.0, 2027),
        (date(2027, 11, 1), -40.0, 2028),
    ],
)
def test_proposed_year(day: date, latitude: float, year: int) -> None:
    assert answers.proposed_year(day, latitude) == year
