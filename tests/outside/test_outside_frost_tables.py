"""Published tables of frost dates against the normal curve.

S68: Research and Education Center, University of Delaware, Georgetown (Moyer, ESSA-Weather, 1970). S69: NOAA NCEI U.S.
Climate Normals 1991-2020, Albany International Airport (New York) and Lupton 1S (Michigan), read as quoted in public
test data. Chance in per cent that frost comes after the day in spring, before it in autumn.
"""

from __future__ import annotations

from datetime import date

import pytest

from rotasolve.domain.site import Frost, Site
from rotasolve.relations.season.frosts import chance_of_frost_beyond, frost_day

Table = dict[int, tuple[int, int]]

# Temperature in degrees F, spring, table.
DELAWARE: list[tuple[str, bool, Table]] = [
    ("32 F", True, {10: (5, 10), 33: (4, 30), 50: (4, 25), 67: (4, 20), 90: (4, 10)}),
    ("32 F", False, {10: (10, 2), 33: (10, 11), 50: (10, 16), 67: (10, 21), 90: (10, 30)}),
    ("24 F", True, {10: (4, 9), 33: (4, 1), 50: (3, 27), 67: (3, 22), 90: (3, 14)}),
    ("24 F", False, {10: (11, 1), 33: (11, 9), 50: (11, 14), 67: (11, 19), 90: (11, 27)}),
    ("16 F", True, {10: (3, 13), 33: (3, 3), 50: (2, 25), 67: (2, 19), 90: (2, 9)}),
]
ALBANY: list[tuple[str, bool, Table]] = [
    ("32 F", True, {10: (5, 11), 50: (4, 27), 90: (4, 16)}),
    ("32 F", False, {10: (10, 3), 50: (10, 15), 90: (11, 1)}),
]


def apart(table: Table, spring: bool, share: int, **more: tuple[int, int]) -> int:
    """Return by how many days our date lies after the printed one; only the 50 and 10 % dates are told."""
    frost = Frost(half=table[50], safe=table[10], daring=more.get("daring"))
    found = date(2027, *table[50]) + frost_day(frost, share / 100, spring)
    return (found - date(2027, *table[share])).days


@pytest.mark.parametrize(("threshold", "spring", "table"), DELAWARE)
def test_delaware_within_a_day(threshold: str, spring: bool, table: Table) -> None:
    assert {share: apart(table, spring, share) for share in table if abs(apart(table, spring, share)) > 1} == {}


def test_albany_is_skewed_by_3_and_5_days() -> None:
    # From 50 and 10 % the curve puts spring's 90 % date 3 days too early, and autumn's 5 days too early.
    assert [apart(table, spring, 90) for _, spring, table in ALBANY] == [-3, -5]


@pytest.mark.parametrize(("threshold", "spring", "table"), ALBANY)
def test_albany_is_kept_once_the_daring_date_is_told(threshold: str, spring: bool, table: Table) -> None:
    assert [apart(table, spring, share, daring=table[90]) for share in table] == [0, 0, 0]


def test_lupton_within_a_day() -> None:
    # 10 % 5 June, 20 % 31 May, 50 % 21 May; first 15, 20 and 29 September.
    assert abs(apart({10: (6, 5), 20: (5, 31), 50: (5, 21)}, True, 20)) <= 1
    assert abs(apart({10: (9, 15), 20: (9, 20), 50: (9, 29)}, False, 20)) <= 1


def test_the_chances_by_date_are_those_of_delaware() -> None:
    site = Site(
        latitude=38.7, last_frost=Frost(half=(4, 25), safe=(5, 10)), first_frost=Frost(half=(10, 16), safe=(10, 2))
    )
    for (_, spring, table), place in ((DELAWARE[0], 0), (DELAWARE[1], 1)):
        for share, day in table.items():
            assert 100 * chance_of_frost_beyond(site, date(2027, *day))[place] == pytest.approx(share, abs=2), spring
