"""The grower's own words for crops are understood and shown back where wishes and questions name a crop."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import Result

Run = Callable[..., Result]


@pytest.fixture
def own_words(tiny: Path) -> Path:
    """Return the tiny garden with wishes in words that are not the catalogue's names."""
    text = tiny.read_text(encoding="utf-8")
    text = text.replace("crop: carrot", "crop: Carrots").replace("crop: leaf lettuce", "crop: salad leaves")
    tiny.write_text(text.replace("crop: kale", "crop: borecole"), encoding="utf-8")
    return tiny


def test_a_card_is_found_by_any_name_and_says_it_back(run: Run) -> None:
    done = run("crops", "zucchinis")
    assert done.exit_code == 0
    assert done.stdout.splitlines()[0] == "zucchinis (summer squash)"
    assert run("crops", "potatoes").stdout.splitlines()[0] == "potatoes"
    assert run("crops", "kale").stdout.splitlines()[0] == "kale"
    assert json.loads(run("crops", "arugula", "--json").stdout)["crops"][0]["name"] == "rocket"


def test_a_name_of_two_crops_asks_which(run: Run) -> None:
    done = run("crops", "squash")
    assert done.exit_code == 2
    assert "may mean several crops; write 'summer squash' or 'winter squash'" in " ".join(done.stderr.split())


def test_wishes_are_shown_in_the_words_they_were_written_in(run: Run, own_words: Path, tmp_path: Path) -> None:
    plan = tmp_path / "own.plan.json"
    done = run("plan", own_words, "--effort", 2, "-q", "-o", plan)
    assert done.exit_code == 0
    words = " ".join(done.stdout.split("beside what you wish")[-1].split())
    assert all(word in words for word in ("Carrots", "salad leaves (leaf lettuce)", "borecole (kale)"))
    assert "Carrots (carrot)" not in done.stdout
    assert {planting["crop"] for planting in json.loads(plan.read_text())["plantings"]} <= {
        "carrot",
        "leaf lettuce",
        "kale",
    }
    supply = " ".join(run("supply", own_words, plan).stdout.split())
    assert "borecole (kale) " in supply


def test_a_question_is_answered_in_the_word_it_was_asked_in(run: Run, tiny: Path) -> None:
    assert "places for 3 plants of borecole (kale)" in run("where", tiny, "borecole", "--plants", 3).stdout
    assert "\nbeets (beetroot)\n" in run("season", tiny, "beets").stdout


def test_an_own_word_changes_no_hash(run: Run, tiny: Path, tmp_path: Path) -> None:
    plan = tmp_path / "own.plan.json"
    assert run("plan", tiny, "--effort", 2, "-q", "-o", plan).exit_code == 0
    tiny.write_text(tiny.read_text(encoding="utf-8").replace("crop: kale", "crop: borecole"), encoding="utf-8")
    assert run("show", tiny, plan).stderr == ""


def test_a_scenario_asks_which_crop_is_meant(run: Run, tiny: Path) -> None:
    tiny.write_text(tiny.read_text(encoding="utf-8").replace("crop: leaf lettuce", "crop: lettuce"), encoding="utf-8")
    done = run("check", tiny)
    assert done.exit_code == 1
    said = " ".join((done.stdout + done.stderr).split())
    assert "tiny.yaml:15:14: the crop 'lettuce' may mean several crops - write 'head lettuce' or 'leaf lettuce'" in said
