"""The two lock files: one for those who grow, one for those who also test; the same versions, and nothing too much."""

from __future__ import annotations

import re
import tomllib
from importlib.metadata import requires
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[2]
USERS, ALL = ROOT / "requirements.lock", ROOT / "tests" / "requirements.lock"
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
NEEDED: list[str] = PROJECT["project"]["dependencies"]
CLUSTER: list[str] = PROJECT["project"]["optional-dependencies"]["cluster"]
BUILD: list[str] = PROJECT["dependency-groups"]["build"]


def pins(lock: Path) -> dict[str, set[str]]:
    """Return each pin of a lock file (name, version and where it holds) with its hashes."""
    found: dict[str, set[str]] = {}
    for line in lock.read_text(encoding="utf-8").splitlines():
        if re.match(r"[a-z0-9]", line):
            pin = line.removesuffix(" \\")
            found[pin] = set()
        elif line.startswith("    --hash="):
            found[pin].add(line.strip(" \\"))
    return found


def names(lock: Path) -> set[str]:
    return {canonicalize_name(Requirement(pin).name) for pin in pins(lock)}


def closure(asked: list[str]) -> set[str]:
    """Return what these requirements lead to here, by the metadata of what is installed."""
    found: set[str] = set()
    open_ones = [Requirement(one) for one in asked]
    while open_ones:
        one = open_ones.pop()
        name = canonicalize_name(one.name)
        if one.marker is None or one.marker.evaluate({"extra": ""}):
            if name not in found:
                open_ones += [Requirement(line) for line in requires(name) or ()]
            found.add(name)
    return found


def test_the_two_locks_agree() -> None:
    users, all_pins = pins(USERS), pins(ALL)
    assert len(users) > 20
    assert {pin: all_pins.get(pin) for pin in users} == users


@pytest.mark.parametrize("lock", [USERS, ALL], ids=["users", "all"])
def test_every_pin_has_hashes_and_no_line_an_address(lock: Path) -> None:
    for pin, hashes in pins(lock).items():
        assert "==" in pin
        assert hashes, pin
        assert all(re.fullmatch(r"--hash=sha256:[0-9a-f]{64}", one) for one in hashes)
    text = lock.read_text(encoding="utf-8")
    assert "//" not in text
    assert not re.search(r"^ *-(?!-hash)", text, re.MULTILINE)


def test_the_users_lock_holds_what_rotasolve_needs_and_nothing_for_tests() -> None:
    needed = closure([*NEEDED, *BUILD])
    assert needed <= names(USERS)
    # Only pins for other systems or other Pythons are not needed here.
    assert {
        pin for pin in pins(USERS) if Requirement(pin).marker is None and Requirement(pin).name not in needed
    } == set()


def test_the_locked_versions_are_among_those_allowed() -> None:
    locked = [Requirement(pin) for pin in pins(ALL)]
    groups = [one for one in PROJECT["dependency-groups"]["dev"] if isinstance(one, str)]
    for asked in (Requirement(one) for one in [*NEEDED, *BUILD, *CLUSTER, *groups]):
        versions = [one.specifier for one in locked if canonicalize_name(one.name) == canonicalize_name(asked.name)]
        assert versions, asked.name
        for version in versions:
            assert str(version).removeprefix("==") in asked.specifier, asked.name


def test_every_lower_bound_is_a_version_one_can_install() -> None:
    # .ci/run installs exactly these and plans with them; a bound without one would be tested with something else.
    for one in NEEDED:
        assert re.match(r"[a-z0-9]+>=\d+(\.\d+)+(,|$)", one), one
