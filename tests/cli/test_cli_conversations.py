"""Twenty conversations with ``begin`` at a pseudo-terminal, wrong answers among them, and what each one leaves."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenarios import read_scenario

if sys.platform == "win32":
    pytest.skip("pseudo-terminals are the POSIX way", allow_module_level=True)

from tests.helpers.conversations import BED, END, SITE, TALKS
from tests.helpers.pseudo_terminal import CTRL_C, CTRL_D, converse

Environment = Callable[..., dict[str, str]]


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


@pytest.mark.parametrize("name", TALKS)
def test_conversations(name: str, catalogue: Catalogue, environment: Environment, tmp_path: Path) -> None:
    talk = TALKS[name]
    done = converse(["begin", "garden.yaml"], talk.said, tmp_path, environment())
    assert done.status == 0, done.screen
    for part in talk.shown:
        assert part in " ".join(done.screen.split()) or part in done.screen, done.screen
    assert "Traceback" not in done.screen
    assert talk.holds(read_scenario(tmp_path / "garden.yaml", catalogue)) == talk.value
    assert [file.name for file in tmp_path.iterdir()] == ["garden.yaml"]


@pytest.mark.parametrize(("end", "status"), [("stop", 0), (CTRL_C, 130), (CTRL_D, 130)])
def test_the_twentieth_is_left_and_gone_on_with(
    end: str, status: int, catalogue: Catalogue, environment: Environment, tmp_path: Path
) -> None:
    left = converse(["begin", "garden.yaml"], (*SITE, "6x1.2", "e-w", end), tmp_path, environment())
    assert left.status == status, left.screen
    assert "go on with: rotasolve begin garden.yaml" in " ".join(left.screen.split())
    kept = json.loads((tmp_path / "garden.begun.json").read_text(encoding="utf-8"))
    assert [key for key, _ in kept["answers"]][-2:] == ["bed 1", "bed 1 runs"]
    done = converse(["begin", "garden.yaml"], ("cold frame", "", "", *END), tmp_path, environment())
    assert done.status == 0, done.screen
    assert "Going on with the 8 answers of last time" in done.screen
    bed = read_scenario(tmp_path / "garden.yaml", catalogue).beds[0]
    assert (bed.runs, bed.cover) == ("east-west", "cold frame")
    assert [file.name for file in tmp_path.iterdir()] == ["garden.yaml"]


def test_answers_that_cannot_be_read_again_are_asked_for(environment: Environment, tmp_path: Path) -> None:
    (tmp_path / "garden.begun.json").write_text('{"answers": [["title", "Hill"], ["latitude", "99"], 7]}')
    done = converse(["begin", "garden.yaml"], (*SITE, *BED, *END), tmp_path, environment())
    assert done.status == 0, done.screen


MOST_LINES = 12
"""Commands, and lines typed into them, that a person needs from nothing to a printed report."""


def test_from_nothing_to_a_report_in_twelve_lines(environment: Environment, tmp_path: Path) -> None:
    site = ("--latitude", "52.3", "--people", "2")
    path: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...] = (
        (
            ("begin", "garden.yaml", *site),
            # A latitude, dates of frost, a year, a bed, no more beds, wishes, one of them again, and nothing else.
            (
                "Hill plot",
                "5 May",
                "15 October",
                "2027, 1 year",
                "4 x 1.2 m, n-s, open; 2026 potatoes",
                "",
                "carrots 4 kg July-October, a little kale, lettuces",
                "leaf lettuce 1 kg",
                "",
            ),
        ),
        (("plan", "garden.yaml", "--effort", "1", "-o", "garden.plan.json"), ()),
        (("report", "garden.plan.json", "-o", "garden.html"), ()),
    )
    lines = len(path) + sum(len(said) for _, said in path)
    assert lines <= MOST_LINES
    for words, said in path:
        done = converse(words, said, tmp_path, environment())
        assert done.status == 0, done.screen
    page = (tmp_path / "garden.html").read_text(encoding="utf-8")
    assert "Hill plot" in page
    assert "carrots" in page
    assert "@media print" in page
