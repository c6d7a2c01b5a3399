"""``rotasolve draw`` as somebody types it."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree

import pytest
from typer.testing import Result

Run = Callable[..., Result]


def test_drawings_are_written_listed_and_not_replaced(run: Run, tiny: Path, plan_file: Path, tmp_path: Path) -> None:
    folder = tmp_path / "drawings"
    done = run("draw", tiny, plan_file, "-o", folder)
    assert done.exit_code == 0, done.stderr
    names = ["bed-long-bed-2027.svg", "harvest-2027.svg", "season-long-bed-2027.svg", "site-2027.svg"]
    assert sorted(file.name for file in folder.iterdir()) == names
    assert all(name in done.stdout for name in names)
    for name in names:
        assert ElementTree.fromstring((folder / name).read_bytes()).tag.endswith("svg")
    (folder / "site-2027.svg").write_text("mine", encoding="utf-8")
    (folder / "harvest-2027.svg").unlink()
    refused = run("draw", tiny, plan_file, "-o", folder)
    assert refused.exit_code == 2
    assert refused.stdout == ""
    said = " ".join(refused.stderr.split())
    assert "site-2027.svg" in said
    assert "--force" in said
    assert "harvest-2027.svg" not in said
    assert (folder / "site-2027.svg").read_text(encoding="utf-8") == "mine"
    assert not (folder / "harvest-2027.svg").exists()
    assert run("draw", tiny, plan_file, "-o", folder, "--force").exit_code == 0
    assert sorted(file.name for file in folder.iterdir()) == names
    assert (folder / "site-2027.svg").read_text(encoding="utf-8") != "mine"


def test_json_lists_the_files_with_what_each_shows(run: Run, tiny: Path, plan_file: Path, tmp_path: Path) -> None:
    done = run("draw", tiny, plan_file, "-o", tmp_path / "d", "--json", "--year", 2027, "--bed", "long bed")
    answer = json.loads(done.stdout)
    assert answer["schema_version"] == 1
    assert answer["scenario_matches"] is True
    assert [file["shows"] for file in answer["files"]] == ["site", "bed", "season", "harvest"]
    assert [file["bed"] for file in answer["files"]] == [None, "long bed", "long bed", None]
    for file in answer["files"]:
        assert file["year"] == 2027
        assert file["title"]
        assert (tmp_path / "d" / file["file"]).exists()


def test_beds_of_any_name_get_files_of_their_own(run: Run, tiny: Path, tmp_path: Path) -> None:
    text = tiny.read_text(encoding="utf-8").replace("length: 1.8 m", "length: 1.2 m")
    beds = "".join(
        f"  - {{name: {json.dumps(name)}, length: 1.2 m, width: 1.2 m}}\n"
        for name in ("../up", "up", "C:\\con", "\u0433\u0440\u044f\u0434\u043a\u0430", ".")
    )
    tiny.write_text(text.replace("household:", beds + "household:"), encoding="utf-8")
    plan, folder = tmp_path / "p.json", tmp_path / "d"
    assert run("plan", tiny, "--effort", 2, "-q", "-o", plan).exit_code == 0
    done = run("draw", tiny, plan, "-o", folder)
    assert done.exit_code == 0, done.stderr
    found = sorted(file.name for file in folder.iterdir() if file.name.startswith("bed-"))
    assert found == [
        "bed-c-con-2027.svg",
        "bed-long-bed-2027.svg",
        "bed-number-5-2027.svg",
        "bed-number-6-2027.svg",
        "bed-up-2-2027.svg",
        "bed-up-2027.svg",
    ]
    assert sorted(file.name for file in tmp_path.iterdir()) == ["d", "p.json", "tiny.yaml"]


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["-o", "{tmp}/d", "--year", "1999"], "no year 1999"),
        (["-o", "{tmp}/d", "--bed", "long bid"], "did you mean 'long bed'"),
        (["-o", "{tmp}/tiny.yaml"], "this is a file, not a folder"),
        (["-o", "{tmp}/no/where"], "the folder cannot be made"),
        ([], "--output"),
    ],
)
def test_bad_options_say_what_to_write(
    run: Run, tiny: Path, plan_file: Path, tmp_path: Path, options: list[str], said: str
) -> None:
    refused = run("draw", tiny, plan_file, *(option.format(tmp=tmp_path) for option in options))
    assert refused.exit_code == 2
    assert said in " ".join(refused.stderr.split())
    assert refused.stdout == ""
    assert not (tmp_path / "d").exists()


def test_a_narrow_terminal_and_inches(run: Run, tiny: Path, plan_file: Path, tmp_path: Path) -> None:
    done = run("draw", tiny, plan_file, "-o", tmp_path / "d", "--inches", COLUMNS="50")
    assert done.exit_code == 0
    assert max(map(len, done.stdout.splitlines())) <= 50
    assert "\u00a0in" in (tmp_path / "d" / "bed-long-bed-2027.svg").read_text(encoding="utf-8")
