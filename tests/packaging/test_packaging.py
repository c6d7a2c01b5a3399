"""The wheel and the source archive: what is in them, and that the wheel works away from the checkout."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import tarfile
import zipfile
from collections.abc import Callable, Iterator
from email.parser import Parser
from pathlib import Path, PurePosixPath

import pytest

ROOT = Path(__file__).parents[2]
SOURCES = {"rotasolve": "rotasolve", "crops": "rotasolve/_shipped/crops", "scenarios": "rotasolve/_shipped/scenarios"}
"""Folder of the checkout to folder of the wheel."""
KINDS = {".py", ".json", ".yaml", ".md", ".typed", ".html", ".css"}
HEAVY = {"ortools", "highspy", "numpy", "pandas", "networkx", "pydantic", "typer", "rich", "yaml", "jinja2"}

Run = Callable[[str], str]


def build(kind: str, folder: Path) -> Path:
    """Build a wheel or a source archive (sdist) from the checkout."""
    done = subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", kind, "-d", str(folder)],
        cwd=ROOT,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        encoding="utf-8",
        timeout=120,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    (file,) = folder.iterdir()
    return file


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build("wheel", tmp_path_factory.mktemp("dist"))


@pytest.fixture(scope="module")
def unpacked(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("site")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(folder)
    return folder


@pytest.fixture
def run(unpacked: Path, tmp_path: Path) -> Run:
    """Return a runner of Python lines in an empty folder, with the unpacked wheel for rotasolve."""

    def call(lines: str) -> str:
        kept = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "ROTASOLVE"))}
        done = subprocess.run(
            [sys.executable, "-W", "error", "-c", lines],
            cwd=tmp_path,
            env={**kept, "PYTHONPATH": str(unpacked), "PYTHONUTF8": "1"},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            encoding="utf-8",
            timeout=60,
            check=False,
        )
        assert done.returncode == 0, done.stderr
        assert list(tmp_path.iterdir()) == []
        return done.stdout

    return call


def _names(wheel: Path) -> list[str]:
    with zipfile.ZipFile(wheel) as archive:
        return archive.namelist()


def _in_checkout(folders: dict[str, str]) -> Iterator[str]:
    """Yield the packed name of every file in these folders of the checkout."""
    for folder, there in folders.items():
        for path in (ROOT / folder).rglob("*"):
            if path.is_file() and "__pycache__" not in path.parts:
                yield f"{there}/{path.relative_to(ROOT / folder).as_posix()}"


def _text(wheel: Path, ending: str) -> str:
    (name,) = [name for name in _names(wheel) if name.endswith(ending)]
    with zipfile.ZipFile(wheel) as archive:
        return archive.read(name).decode("utf-8")


def test_the_wheel_holds_the_files_of_the_checkout_and_no_others(wheel: Path) -> None:
    packed = [name for name in _names(wheel) if ".dist-info/" not in name]
    assert sorted(packed) == sorted(_in_checkout(SOURCES))
    assert [name for name in packed if PurePosixPath(name).suffix not in KINDS] == []


def test_the_wheel_holds_what_users_and_editors_need(wheel: Path) -> None:
    names = set(_names(wheel))
    assert "rotasolve/py.typed" in names
    assert {f"rotasolve/files/schemas/{name}.json" for name in ("scenario", "plan", "crop-file")} <= names
    assert "rotasolve/_shipped/crops/sources.yaml" in names
    assert "rotasolve/_shipped/scenarios/cold-frame.yaml" in names
    assert {name.partition("/")[0] for name in names if ".dist-info/" not in name} == {"rotasolve"}


def test_the_source_archive_holds_what_the_commands_of_the_readme_need(tmp_path: Path) -> None:
    with tarfile.open(build("sdist", tmp_path)) as archive:
        packed = {member.name.partition("/")[2] for member in archive.getmembers() if member.isfile()}
    asked = re.findall(r"-r (\S+)", (ROOT / "README.md").read_text(encoding="utf-8"))
    assert len(set(asked)) == 2
    assert set(asked) <= packed
    top = {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "requirements.lock", ".gitignore", "PKG-INFO"}
    folders = {name: name for name in ("rotasolve", "crops", "scenarios", "tests")}
    assert packed == top | set(_in_checkout(folders))


def test_the_wheel_says_who_it_is(wheel: Path) -> None:
    facts = Parser().parsestr(_text(wheel, "/METADATA"))
    assert (facts["Name"], facts["License-Expression"], facts["Requires-Python"]) == ("rotasolve", "MIT", ">=3.11")
    assert "Permission is hereby granted" in _text(wheel, "/LICENSE")
    assert _text(wheel, "/entry_points.txt").split() == [
        "[console_scripts]",
        "rotasolve",
        "=",
        "rotasolve.cli.app:main",
    ]


def test_the_unpacked_wheel_finds_its_crops_and_scenarios(run: Run, unpacked: Path) -> None:
    told = json.loads(
        run(
            "import json, rotasolve\n"
            "from rotasolve.files.crops import load_catalogue\n"
            "from rotasolve.files.scenarios import read_scenario\n"
            "from rotasolve.files.shipped import shipped_files\n"
            "crops = load_catalogue()\n"
            "titles = {file.name: read_scenario(file, crops).title for file in shipped_files('scenarios')}\n"
            "print(json.dumps([rotasolve.__file__, len(crops.crops), titles]))\n"
        )
    )
    assert told[0] == str(unpacked / "rotasolve" / "__init__.py")
    assert told[1] >= 55
    assert set(told[2]) == {path.name for path in (ROOT / "scenarios").glob("*.yaml")}


def test_the_unpacked_wheel_plans(run: Run) -> None:
    answer = run(
        "import sys\n"
        "sys.argv = ['rotasolve', 'plan', 'cold-frame', '--effort', '3', '--quiet', '--json']\n"
        "from rotasolve.cli.app import main\n"
        "main()\n"
    )
    assert "sweet pepper" in answer
    assert isinstance(json.loads(answer), dict)


def test_the_unpacked_wheel_writes_a_report(run: Run) -> None:
    page = run(
        "import sys\n"
        "from rotasolve.files.crops import load_catalogue\n"
        "from rotasolve.files.scenarios import read_scenario\n"
        "from rotasolve.files.shipped import shipped_folder\n"
        "from rotasolve.referee import blank_plan\n"
        "from rotasolve.relations.ground.garden import make_garden\n"
        "from rotasolve.tasks.reporting import findings_of_plan\n"
        "from rotasolve.views.words.look import Look\n"
        "from rotasolve.views.report.report_page import report_page\n"
        "from rotasolve.views.report.report_parts import Told\n"
        "crops = load_catalogue()\n"
        "frame = read_scenario(shipped_folder('scenarios') / 'cold-frame.yaml', crops)\n"
        "found = findings_of_plan(make_garden(frame, crops), blank_plan(frame))\n"
        "told = Told(found.garden, found.plan, found.jobs, found.supplies, (frame.first_year,), Look())\n"
        "print(report_page(told))\n"
    )
    assert page.startswith("<!DOCTYPE html>")
    assert "@page { size: A4" in page


def test_importing_rotasolve_loads_nothing_heavy(run: Run) -> None:
    loaded = set(run("import sys, rotasolve\nprint(*sys.modules)\n").split())
    assert "rotasolve" in loaded
    assert {name.partition(".")[0] for name in loaded} & HEAVY == set()


def test_the_guard_sees_what_the_solver_loads(run: Run) -> None:
    loaded = set(run("import sys, rotasolve.solver.cpsat\nprint(*sys.modules)\n").split())
    assert "ortools" in loaded
