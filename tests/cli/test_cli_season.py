"""``season`` and ``water``: what a grower sees, in tables and blocks, as JSON, and when something is wrong."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from tests.cli.conftest import TINY, Run
from tests.helpers.climates import CAMBRIDGE

CLIMATE = f"""\
  climate:
    mean_minima_c: {list(CAMBRIDGE["mean_minima_c"])}
    mean_maxima_c: {list(CAMBRIDGE["mean_maxima_c"])}
    rain_mm: {list(CAMBRIDGE["rain_mm"])}
"""
FROST = "  last_frost: {half: 5 May}\n  first_frost: {half: 15 October}\n"


@pytest.fixture
def mild(tmp_path: Path) -> Path:
    """Return a scenario that gives a climate and no frost dates."""
    file = tmp_path / "mild.yaml"
    file.write_text(TINY.replace(FROST, CLIMATE), encoding="utf-8")
    return file


def test_season_shows_half_months_and_windows(run: Run, mild: Path) -> None:
    done = run("season", mild)
    assert done.exit_code == 0, done.stderr
    assert "Last frost 18 April, first frost 19 November" in done.stdout
    assert "worked out from the mean nights" in " ".join(done.stdout.split())
    assert len([line for line in done.stdout.splitlines() if line.startswith(("1 ", "16 "))]) == 24
    # Every bed lies in the open, so that no column says so; then the window, its good days and what they give.
    assert re.search(r"^leaf lettuce +sown in place +\d+ \w+ . +to \d+ Jun +100 % ", done.stdout, re.MULTILINE)
    assert "Climate: an estimate" not in done.stdout


def test_season_works_without_a_climate(run: Run, tiny: Path) -> None:
    done = run("season", tiny)
    assert done.exit_code == 0, done.stderr
    assert "Soil" not in done.stdout
    text = " ".join(done.stdout.split())
    assert "Climate: an estimate from latitude and frost dates, 1.4 degC off for nights and 2.9 degC for days" in text
    assert "Last frost 5 May, first frost 15 October" in done.stdout


def test_season_explains_a_crop_under_every_cover(run: Run, mild: Path) -> None:
    done = run("season", mild, "tomato", "--details")
    assert done.exit_code == 0, done.stderr
    text = " ".join(done.stdout.split())
    for cover in ("open ground", "under cold frame", "under fleece", "under low tunnel", "under tunnel"):
        assert f"set out, {cover}: " in text
    assert "opens: mean nights stay above 7.2 degC from 19 May [S24]" in text
    # Lids and doors: the reminder stands beside the windows under covers.
    assert "cold frame: Open the lid on sunny days" in text


def test_season_says_what_each_half_month_gives_and_which_starts_are_good(run: Run, mild: Path) -> None:
    text = " ".join(run("season", mild, "beetroot", "--details").stdout.split())
    assert re.search(r"good \d+ Mar . \d+ Jun, possible \d+ Jun . \d+ Aug, catch crop \d+ Aug . \d+ Aug ", text)
    shown = r"% of a full crop: Mar 95 98, Apr 98 98, May \d+ \d+, Jun \d+ \d+, Jul \d+ \d+, Aug \d+ \d+ opens:"
    assert re.search(shown, text)
    assert "A plan is offered good ones; possible ones too where you wish months of fresh harvest" in text
    answer = json.loads(run("season", mild, "beetroot", "--json").stdout)
    assert answer["climate_estimated"] is False
    assert answer["estimate_error_c"] is None
    window = next(one for one in answer["windows"] if one["cover"] == "open ground")["windows"][0]
    shares = window["shares"]
    assert shares[0]["start"] == window["earliest"] == window["parts"][0]["first"]
    assert window["latest"] == window["parts"][-1]["last"]
    assert {share["part"] for share in shares} == {"good", "possible", "catch crop"}
    falling = [share["percent_of_full_crop"] for share in shares if share["start"] >= "2027-07-01"]
    assert falling == sorted(falling, reverse=True)
    assert falling[-1] < falling[0]


def test_season_says_what_a_late_day_gives_and_the_good_ones(run: Run, mild: Path) -> None:
    asked = ("season", mild, "beetroot", "--on", "19 August")
    text = " ".join(run(*asked).stdout.split())
    answer = json.loads(run(*asked, "--json").stdout)
    bare = next(one for one in answer["days"] if one["cover"] == "open ground")
    assert bare["open"] is True
    assert 25 <= bare["percent_of_full_crop"] < 50  # of the best one, which gives a full crop
    assert f"a catch crop, {bare['percent_of_full_crop']} % of a full crop; good from " in text
    shut = json.loads(run("season", mild, "tomato", "--on", "1 August", "--json").stdout)["days"]
    assert {one["percent_of_full_crop"] for one in shut} == {None}


def test_season_warns_of_covers_kept_shut_in_summer(run: Run, mild: Path) -> None:
    done = run("season", mild, "spinach", "--details")
    text = " ".join(done.stdout.split())
    # Cambridge: 22.9 degrees in July by day, and 4.2 more in a tunnel (S76); spinach bears 23.9 (S05).
    assert "tunnel: Kept shut, it is hotter on a usual afternoon than these grow in: spinach (23.9 degC) from " in text
    heat = json.loads(run("season", mild, "spinach", "--json").stdout)["heat_under_covers"]
    assert {one["cover"] for one in heat} == {"cold frame", "fleece", "low tunnel", "tunnel"}
    tunnel = next(one for one in heat if one["cover"] == "tunnel")
    assert tunnel["hottest_usual_afternoon_c"] == pytest.approx(22.9 + 4.2, abs=0.6)
    assert {"S05", "S76"} <= set(tunnel["sources"])


def test_season_says_where_quick_kinds_are_counted(run: Run, mild: Path) -> None:
    text = " ".join(run("season", mild, "tomato").stdout.split())
    assert "counted with quick kinds (70 days): usual ones give less here, or do not ripen" in text
    windows = json.loads(run("season", mild, "tomato", "--json").stdout)["windows"]
    assert {one["cover"]: one["quick_kinds_days"] for one in windows}["open ground"] == 70
    assert "quick kinds" not in run("season", mild, "beetroot", "--details").stdout


def test_season_judges_a_day(run: Run, tiny: Path) -> None:
    done = run("season", tiny, "cucumber", "--on", "1 May")
    assert done.exit_code == 0, done.stderr
    text = " ".join(done.stdout.split())
    # By its safe frost date and the soil of the climate estimated from the dates given.
    assert "cucumber, sown in place, open ground: no, opens on 10 June: 10 June is the latest opening" in text
    assert "cucumber, set out, open ground: no, opens on " in text
    assert "beware: 1 May is 4 days before the last frost of 1 year in 2 (5 May)" in text


def test_season_as_json_holds_reasons_as_data(run: Run, mild: Path) -> None:
    answer = json.loads(run("season", mild, "tomato", "--on", "1 May", "--json").stdout)
    assert answer["schema_version"] == 1
    assert len(answer["half_months"]) == 24
    july = answer["half_months"][12]
    assert july["first_day"] == "2027-07-01"
    assert july["soil_10_cm_c"] == pytest.approx(16.7, abs=0.1)
    bare = next(one for one in answer["windows"] if one["cover"] == "open ground")
    reason = bare["windows"][0]["opens"][0]
    assert reason["kind"] == "nights"
    assert reason["day"] == bare["windows"][0]["earliest"] == "2027-05-19"
    assert reason["degrees_c"] == 7.2
    assert reason["sources"] == ["S24"]
    assert "S24" in answer["sources"]
    assert {day["open"] for day in answer["days"]} == {False}
    assert answer["frost_given"] is False


@pytest.mark.parametrize("width", [40, 50, 80, 120])
def test_season_keeps_within_the_terminal(run: Run, mild: Path, width: int) -> None:
    for arguments in (("season", mild), ("season", mild, "kale")):
        done = run(*arguments, COLUMNS=str(width))
        assert done.exit_code == 0, done.stderr
        assert max(map(len, done.stdout.splitlines())) <= width


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("tomatoe",), "the crop 'tomatoe' is not known; did you mean 'tomato'?"),
        (("tomato", "--on", "31 June"), "--on: '31 June' is not a date"),
        (("--on", "1 June"), "--on judges a day for crops: name one"),
        (("--year", "9999"), "the year must lie between 1960 and 2180, not 9999"),
    ],
)
def test_season_says_what_is_wrong(run: Run, tiny: Path, arguments: tuple[str, ...], told: str) -> None:
    done = run("season", tiny, *arguments)
    assert done.exit_code == 2
    assert told in done.stderr
    assert done.stdout == ""


def test_water_names_what_it_lacks(run: Run, tiny: Path, plan_file: Path) -> None:
    done = run("water", tiny, plan_file)
    assert done.exit_code == 2
    assert "the site has no climate" in done.stderr
    assert "mean_minima_c and mean_maxima_c" in done.stderr


def test_water_by_week_and_bed(run: Run, mild: Path, plan_file: Path) -> None:
    done = run("water", mild, plan_file)
    assert done.exit_code == 0, done.stderr
    assert "water in 2027, litres (L) a week" in done.stdout
    assert "the scenario is not the one the plan was made for" in " ".join(done.stderr.split())
    answer = json.loads(run("water", mild, plan_file, "--json").stdout)
    assert answer["schema_version"] == 1
    assert answer["scenario_matches"] is False
    assert answer["rain_known"] is True
    assert answer["litres"] == pytest.approx(sum(week["litres"] for week in answer["weeks"]), abs=1)
    for week in answer["weeks"]:
        assert week["litres"] == pytest.approx(sum(week["by_crop"].values()), abs=0.3)


def test_water_of_a_year_that_the_plan_has_not(run: Run, mild: Path, plan_file: Path) -> None:
    done = run("water", mild, plan_file, "--year", "2031")
    assert done.exit_code == 2
    assert "the plan has no year 2031; it runs from 2027 to 2027" in done.stderr


def test_water_refuses_beds_it_does_not_know(run: Run, mild: Path, plan_file: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.yaml"
    other.write_text(mild.read_text(encoding="utf-8").replace("long bed", "short bed"), encoding="utf-8")
    done = run("water", other, plan_file)
    assert done.exit_code == 2
    assert "bed 'long bed'" in done.stderr


@pytest.mark.parametrize("width", [30, 50, 80])
def test_water_keeps_within_the_terminal(run: Run, mild: Path, plan_file: Path, width: int) -> None:
    done = run("water", mild, plan_file, COLUMNS=str(width))
    assert done.exit_code == 0, done.stderr
    assert max(map(len, done.stdout.splitlines())) <= width
