"""The commands for the household: supply, compare and exchange."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import Result

Run = Callable[..., Result]

WISHES = "title: Fewer\nhousehold:\n  people: 1\n  targets:\n    - {crop: carrot, kg: 2}\n"


def test_supply_tells_when_a_harvest_comes(run: Run, tiny: Path, plan_file: Path) -> None:
    done = run("supply", tiny, plan_file)
    assert done.exit_code == 0, done.stderr
    assert "Ida's [bold]corner[/bold]" in done.stdout
    for part in ("2027", "carrot", "Gluts", "In store", "pressure canner", "Yields are estimates"):
        assert part in done.stdout


def test_supply_names_the_hungry_gap_of_all_crops_only(run: Run, tiny: Path, plan_file: Path) -> None:
    text = " ".join(run("supply", tiny, plan_file).stdout.split())
    # A plan of one year begins in January: nothing is ripe by April.
    assert re.search(r"Hungry gap: less than \S+ kg to pick in half a month of spring - 2027: 1 Feb . \d+ ", text)
    assert "the plan begins with this year" in text
    (spring,) = json.loads(run("supply", tiny, plan_file, "--json").stdout)["springs"]
    assert (spring["year"], spring["hungry"], spring["from"], spring["begins_plan"]) == (2027, True, "2027-02-01", True)
    assert all(grams > 0 for grams in (*spring["picked_g"].values(), *spring["eaten_from_store_g"].values()))
    # Of some crops only nobody can say whether there is a gap.
    few = ("supply", tiny, plan_file, "--crop", "kale")
    assert "Hungry gap" not in run(*few).stdout
    assert json.loads(run(*few, "--json").stdout)["springs"] == []


@pytest.mark.parametrize("columns", ["50", "20"])
def test_supply_fits_a_narrow_terminal(run: Run, tiny: Path, plan_file: Path, columns: str) -> None:
    done = run("supply", tiny, plan_file, COLUMNS=columns)
    assert done.exit_code == 0
    assert max(map(len, done.stdout.splitlines())) <= int(columns)


def test_supply_in_json_adds_up(run: Run, tiny: Path, plan_file: Path) -> None:
    answer = json.loads(run("supply", tiny, plan_file, "--json", "--yields", "low", "--crop", "kale").stdout)
    assert (answer["schema_version"], answer["yield"]) == (1, "low")
    (kale,) = answer["crops"]
    totals = kale["totals"]
    assert totals["harvested_g"] == totals["eaten_fresh_g"] + totals["kept_g"] + totals["surplus_g"]
    assert totals["harvested_g"] == sum(half["harvested_g"] for half in kale["half_months"])
    low = sum(
        planting["harvest"]["low_kg"]
        for planting in json.loads(plan_file.read_text())["plantings"]
        if planting["crop"] == "kale"
    )
    assert totals["harvested_g"] == round(low * 1000)


def test_supply_refuses_what_it_does_not_know(run: Run, tiny: Path, plan_file: Path) -> None:
    done = run("supply", tiny, plan_file, "--crop", "kail")
    assert done.exit_code == 2
    assert "did you mean 'kale'?" in done.stderr
    assert run("supply", tiny, plan_file, "--yields", "middling").exit_code == 2
    assert run("supply", tiny, tiny).exit_code == 2


def test_compare_a_plan_with_itself(run: Run, tiny: Path, plan_file: Path) -> None:
    done = run("compare", tiny, plan_file, plan_file)
    assert done.exit_code == 0, done.stderr
    assert "nothing: bed by bed the same plants" in done.stdout


def test_compare_with_other_wishes_planned_now(run: Run, tiny: Path, plan_file: Path, tmp_path: Path) -> None:
    wishes = tmp_path / "fewer.yaml"
    wishes.write_text(WISHES, encoding="utf-8")
    done = run("compare", tiny, plan_file, wishes, "--effort", 1, "-q", "--json")
    assert done.exit_code == 0, done.stderr
    one, other = json.loads(done.stdout)["sides"]
    assert [one["planned_here"], other["planned_here"]] == [False, True]
    assert [crop["crop"] for crop in other["crops"]] == ["carrot"]
    assert one["total"]["got"]["typical_kg"] == pytest.approx(
        sum(target["got"]["typical_kg"] for target in one["plan"]["targets"])
    )


@pytest.mark.parametrize(
    ("order", "words"),
    [
        (("plan",), "two sides at least"),
        (("tiny", "plan"), "two sides at least"),
        (("wishes", "tiny"), "name the garden in which these wishes are to be tried"),
        (("nothing.yaml", "tiny"), "nothing.yaml"),
    ],
)
def test_compare_says_what_is_missing(
    run: Run, tiny: Path, plan_file: Path, tmp_path: Path, order: tuple[str, ...], words: str
) -> None:
    wishes = tmp_path / "fewer.yaml"
    wishes.write_text(WISHES, encoding="utf-8")
    files = {"tiny": tiny, "plan": plan_file, "wishes": wishes}
    done = run("compare", *(files.get(word, tmp_path / word) for word in order), "-q")
    assert done.exit_code == 2
    assert words in done.stderr.replace("\n", " ")


@pytest.fixture
def peopled(tiny: Path) -> Path:
    tiny.write_text(tiny.read_text().replace("household:\n", "household:\n  people: 2\n"), encoding="utf-8")
    return tiny


def test_exchange_of_people(run: Run, peopled: Path) -> None:
    done = run("exchange", peopled, "--people", "1,2,4", "--effort", 6, "-q")
    assert done.exit_code == 0, done.stderr
    assert "People" in done.stdout
    assert "yields are estimates" in done.stdout.replace("\n", " ")
    answer = json.loads(run("exchange", peopled, "--people", "1,2,4", "--effort", 6, "-q", "--json").stdout)
    lost = [point["lost"] for point in answer["points"]]
    assert lost == sorted(lost)
    assert [point["amount"] for point in answer["points"]] == [1, 2, 4]


def test_exchange_of_a_crop(run: Run, tiny: Path) -> None:
    done = run("exchange", tiny, "--crop", "Kale", "--kg", "1,900", "--effort", 4, "-q")
    assert done.exit_code == 0, done.stderr
    assert "no plan can hold every rule" in done.stdout
    assert run("exchange", tiny, "--crop", "kale", "--kg", "900", "--effort", 1, "-q").exit_code == 1


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--people", "1,two"), "'two' is not a number"),
        (("--people", "0"), "must lie between"),
        (("--people", "nan"), "must lie between"),
        (("--people", ",".join(str(n) for n in range(1, 40))), "at most 24 points"),
        (("--kg", "3"), "add --crop"),
        (("--crop", "kale"), "give --kg"),
        (("--crop", "kail", "--kg", "3"), "did you mean 'kale'?"),
        (("--seconds", "3", "--effort", "3"), "not both"),
        (("--people", "2"), "names no people"),
    ],
)
def test_exchange_says_what_is_wrong(run: Run, tiny: Path, options: tuple[str, ...], words: str) -> None:
    done = run("exchange", tiny, *options, "-q")
    assert done.exit_code == 2
    assert words in " ".join(done.stderr.replace("│", " ").split())
