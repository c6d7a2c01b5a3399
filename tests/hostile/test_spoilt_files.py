"""A fuzzer of our own: shipped files, spoilt, are refused with a place or answered; nothing breaks, hangs or swells.

``KINDS`` has a row for each kind of file; a new kind is one row. 300 cases run always (hypothesis chooses them, and
makes a smaller one of what fails); 20,000 with ``pytest -m nightly``, in half an hour at the most.
"""

from __future__ import annotations

import random
import re
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.helpers.in_process import Told, call
from tests.helpers.mutations import spoilt

ROOT = Path(__file__).parents[2]
SCENARIOS, PLANS = ROOT / "scenarios", ROOT / "tests" / "data" / "plans"
WISHES = """\
format: 1
title: Bread and peas
household:
  people: 3
  eats:
    - {crop: carrot, how_much: much, keep: 0.4, fresh_from: July, fresh_to: October}
  targets:
    - {crop: kale, kg: 2, weight: 3}
  must_have:
    - {crop: radish, plants: 6}
"""
DIARY = """\
# Days beside the garden of two at table.
2027-05-01 sown carrot, long bed, strips 1-3: moist soil
2027-05-12 failed 2 kale, middle bed: slugs
2027-07-20 picked 1.2 kg pea, long bed
2027-08-02 frost
"""
LONGEST_SECONDS = 5.0
LARGEST_BYTES = 2**30
NIGHTLY_CASES, NIGHTLY_SECONDS = 20_000, 1800.0
_CONTROL = re.compile(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\ud800-\udfff\u202a-\u202e\u2066-\u2069]")
_LONGEST_LINE = 700


@dataclass(frozen=True)
class Kind:
    """A kind of file: what is spoilt, what it is called, what is asked of it, and its share of 300 cases."""

    name: str
    texts: tuple[str, ...]
    ask: Callable[[Path, random.Random], tuple[object, ...]]
    cases: int
    suffix: str = ".yaml"


def _texts(folder: Path, pattern: str) -> tuple[str, ...]:
    return tuple(file.read_text(encoding="utf-8") for file in sorted(folder.glob(pattern)))


def _of_a_plan(file: Path, chance: random.Random) -> tuple[object, ...]:
    # The plan names the scenario it is of; what cannot be read any more is asked beside any.
    titles = {"Nordvik": "cold-frame", "Hollin Row": "two-at-table", "Tui Creek": "southern-garden"}
    text = file.read_text(encoding="utf-8", errors="replace")
    garden = next((name for part, name in titles.items() if part in text), "cold-frame")
    return (chance.choice(["referee", "show", "supply", "calendar", "shopping", "water"]), garden, file)


KINDS = (
    Kind("diary", (DIARY,), lambda file, _: ("diary", "two-at-table", "--diary", file), 40, ".diary.txt"),
    Kind("scenario", _texts(SCENARIOS, "*.yaml"), lambda file, _: ("check", file), 80),
    Kind(
        "plan", tuple(text for text in _texts(PLANS, "*.json") if "Brandow" not in text), _of_a_plan, 80, ".plan.json"
    ),
    Kind("crops", _texts(ROOT / "crops", "*.yaml"), lambda file, _: ("check", "cold-frame", "--own-crops", file), 60),
    Kind(
        "wishes",
        (WISHES,),
        lambda file, _: ("compare", "cold-frame", PLANS / "cold-frame.json", file, "--effort", "0.1", "-q"),
        40,
    ),
)


def refuse_odd(told: Told, text: str, file: Path, seconds: float) -> None:
    """Fail on whatever the program may not do, whatever file it is given."""
    assert told.status in (0, 1, 2), told
    for words in ("Traceback", "defect of rotasolve"):
        assert words not in told.stdout + told.stderr, told.stderr
    assert seconds <= LONGEST_SECONDS
    # Answers show names in full width; what is said beside them is cut.
    assert not _CONTROL.search(told.stdout + told.stderr)
    assert max(map(len, told.stderr.split("\n"))) <= _LONGEST_LINE
    said = told.stdout + told.stderr
    if "nothing was changed." in said:
        lines = re.split(r"\r\n|\n|\r", text)
        places = re.findall(rf"(?m)^{re.escape(str(file))}:(\d+):(\d+): ", said)
        assert places, said
        for line, column in places:
            assert 1 <= int(line) <= len(lines), said
            assert 1 <= int(column) <= len(lines[int(line) - 1].removeprefix("\ufeff")) + 1, said
    elif told.status == 2:
        assert told.stderr.strip(), "neither a fault nor a word"


def largest_bytes() -> int:
    """Return the most memory this process ever took, 0 where nobody counts it."""
    if sys.platform == "win32":
        return 0
    import resource

    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * (1 if sys.platform == "darwin" else 1024)


def try_one(kind: Kind, chance: random.Random, folder: Path) -> None:
    """Spoil a file of a kind and ask of it what is asked."""
    text = spoilt(chance.choice(kind.texts), chance)
    file = folder / f"spoilt{kind.suffix}"
    file.write_bytes(text.encode("utf-8", "surrogatepass"))
    before, begun = largest_bytes(), time.process_time()
    told = call(*kind.ask(file, chance))
    seconds = time.process_time() - begun
    refuse_odd(told, text, file, seconds)
    assert largest_bytes() <= max(before, LARGEST_BYTES)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_spoilt_files_are_refused_or_answered(kind: Kind, tmp_path: Path) -> None:
    @settings(
        max_examples=kind.cases,
        deadline=None,
        derandomize=True,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(st.randoms(use_true_random=False))
    def check(chance: random.Random) -> None:
        try_one(kind, chance, tmp_path)

    check()


@pytest.mark.nightly
def test_spoilt_files_by_night(tmp_path: Path) -> None:
    tried, end = 0, time.monotonic() + NIGHTLY_SECONDS
    shares = [kind for kind in KINDS for _ in range(kind.cases)]
    while tried < NIGHTLY_CASES and time.monotonic() < end:
        kind = shares[tried % len(shares)]
        try:
            try_one(kind, random.Random(tried), tmp_path)
        except AssertionError as odd:
            raise AssertionError(f"case {tried}, a {kind.name} file: {odd}") from odd
        tried += 1
    print(f"{tried} spoilt files tried")  # noqa: T201 - shown with -s
