"""``check``, ``crops``, ``scenarios`` and what all commands share."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import Result

Run = Callable[..., Result]


def test_sound_scenario(run: Run, tiny: Path) -> None:
    done = run("check", tiny)
    assert done.exit_code == 0
    assert "Ground: 1 bed, 3 strips, 2.2 m2" in done.stdout
    assert "Note: No history given" in done.stderr


def test_sound_scenario_as_json(run: Run, tiny: Path) -> None:
    answer = json.loads(run("check", tiny, "--json").stdout)
    assert answer["usable"] is True
    assert answer["summary"]["strips"] == 3
    assert answer["summary"]["crops"] == ["carrot", "leaf lettuce", "kale"]


def test_all_faults_with_place_and_caret(run: Run, tiny: Path) -> None:
    tiny.write_text(tiny.read_text().replace("crop: carrot", "crop: carott").replace("crop: kale", "crop: kael"))
    done = run("check", tiny)
    assert done.exit_code == 1
    assert f"{tiny}:14:14: the crop 'carott' is not known - did you mean 'carrot'?" in done.stdout
    assert f"{tiny}:16:14: the crop 'kael' is not known - did you mean 'kale'?" in done.stdout
    lines = done.stdout.splitlines()
    shown = next(number for number, line in enumerate(lines) if "crop: carott" in line)
    assert lines[shown + 1].index("^") == lines[shown].index("carott")
    answer = json.loads(run("check", tiny, "--json").stdout)
    assert [(fault["line"], fault["column"]) for fault in answer["faults"]] == [(14, 14), (16, 14)]


def test_says_how_much_ground_the_wishes_need(run: Run, tiny: Path) -> None:
    said = " ".join(run("check", tiny).stdout.split())
    assert "Ground the wishes need, of 2.2 m2 in open ground: Jan 0 m2" in said
    assert "About so much would fit beside the other wishes: carrot 2.4 kg instead of 4 kg, kale 2.1 kg" in said
    said = " ".join(run("check", "family-garden").stdout.split())
    assert "Ground the wishes need, of 34.6 m2 in open ground: Jan" in said
    assert "would fit" not in said
    need = json.loads(run("check", "family-garden", "--json").stdout)["ground_need"]
    assert (need["fits"], need["less"], len(need["grounds"][0]["needed_m2"])) == (True, [], 24)


def test_a_wish_far_beyond_the_ground_gets_a_clear_word(run: Run, tmp_path: Path) -> None:
    text = run("scenarios", "allotment").stdout
    assert "{crop: potato, kg: 16," in text
    file = tmp_path / "potatoes.yaml"
    file.write_text(text.replace("{crop: potato, kg: 16,", "{crop: potato, kg: 400,"))
    said = " ".join(run("check", file).stdout.split())
    assert "m2 in open ground in June, and 97.9 m2 are there: potato 145" in said
    # Two complete years of rest: twice in four years, so half of the ground less the beds still resting.
    assert "Solanaceae (potato) need about 145" in said
    assert "with 2 complete years of rest they have about 43.2 m2 of it" in said
    assert "About so much would fit beside the other wishes: potato 80 kg instead of 400 kg" in said
    need = json.loads(run("check", file, "--json").stdout)["ground_need"]
    assert need["fits"] is False
    assert need["less"][0] == {"crop": "potato", "m2": need["less"][0]["m2"], "wanted_kg": 400.0, "fits_kg": 80.0}


def test_missing_file_names_what_is_shipped(run: Run) -> None:
    done = run("check", "famly-garden")
    assert (done.exit_code, done.stdout) == (2, "")
    assert "did you mean 'family-garden'?" in done.stderr


def test_shipped_scenarios_can_be_named(run: Run) -> None:
    listed = json.loads(run("scenarios", "--json").stdout)["scenarios"]
    assert "family-garden" in [entry["name"] for entry in listed]
    for entry in listed:
        assert entry["about"]
        assert run("check", entry["name"]).exit_code == 0


def test_file_goes_before_a_shipped_name(run: Run, tiny: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tiny.parent)
    tiny.rename("family-garden")
    assert "Ida's" in run("check", "family-garden").stdout


def test_scenario_is_copied_but_never_over_a_file(run: Run, tmp_path: Path) -> None:
    copy = tmp_path / "mine.yaml"
    assert run("scenarios", "family-garden", "--copy", copy).exit_code == 0
    assert copy.read_text() == run("scenarios", "family-garden").stdout
    assert run("scenarios", "cold-frame", "--copy", copy).exit_code == 2
    assert run("scenarios", "cold-frame", "--copy", copy, "--force").exit_code == 0
    assert run("check", copy).exit_code == 0
    assert run("scenarios", "hot-frame").exit_code == 2
    assert run("scenarios", "--copy", copy).exit_code == 2


def test_crop_card_by_another_name(run: Run) -> None:
    done = run("crops", "EGGPLANT")
    assert done.exit_code == 0
    assert done.stdout.startswith("EGGPLANT (aubergine)\n")
    assert "[1]" in done.stdout
    assert run("crops", "eggplant", "--inches").stdout != done.stdout


def test_unknown_crop(run: Run) -> None:
    done = run("crops", "tomatto")
    assert (done.exit_code, done.stdout) == (2, "")
    assert "did you mean 'tomato'?" in done.stderr


def test_crops_as_json_carry_their_sources(run: Run) -> None:
    answer = json.loads(run("crops", "kale", "--json").stdout)
    assert answer["crops"][0]["name"] == "kale"
    assert answer["sources"]
    assert len(json.loads(run("crops", "--json").stdout)["crops"]) > 40


@pytest.mark.parametrize("command", ["begin", "check", "plan", "show", "referee", "crops", "scenarios"])
@pytest.mark.parametrize("option", ["-h", "--help"])
def test_help_begins_with_examples(run: Run, command: str, option: str) -> None:
    done = run(command, option)
    assert done.exit_code == 0
    assert done.stdout.index("Examples:") < done.stdout.index("Options")
    assert f"rotasolve {command}" in done.stdout


def test_mistyped_command_is_guessed(run: Run) -> None:
    done = run("chek")
    assert done.exit_code == 2
    assert "check" in done.stderr


def test_versions(run: Run) -> None:
    done = run("--version")
    assert done.exit_code == 0
    assert "Python 3." in done.stdout
    assert "OR-Tools" in done.stdout
