"""The share of a full crop a late start gives, against trials and handbooks (rows of tests/data/late_starts.csv).

The place is the reference climate of southern England, or for Scottish reports Northumberland, the station nearest to
Scotland that we have (tests/data/station_normals.csv), in the open, without a cover. A published loss is met when the
model's loss lies within a factor of two of it. What the model misses is marked as a known weakness with its figures:
such a case fails when the model mends, so that the mark is taken away.
"""

from __future__ import annotations

import csv
from datetime import date
from pathlib import Path

import pytest

from rotasolve.domain.site import Site
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.season.growing import growing

with (Path(__file__).parents[1] / "data" / "late_starts.csv").open(encoding="utf-8", newline="") as file:
    PUBLISHED = list(csv.DictReader(file))

CATALOGUE = load_catalogue()
OPEN = next(cover for cover in CATALOGUE.covers if cover.name == "open ground")
ENGLAND = Site(
    latitude=52.2,
    climate=next(one.climate for one in CATALOGUE.reference_climates if one.name == "southern England"),
)


def _station(name: str) -> Site:
    with (Path(__file__).parents[1] / "data" / "station_normals.csv").open(encoding="utf-8", newline="") as file:
        row = next(row for row in csv.DictReader(file) if row["station"] == name)
    means = {
        f"mean_{end}ima_c": [float(value) for key, value in row.items() if key.startswith(f"{end}_")]
        for end in ("min", "max")
    }
    return Site.model_validate({"latitude": float(row["latitude"]), "climate": means})


NORTH = _station("Northumberland, England")


def _share(crop: str, month: int, day: int, kind: int = 0, where: Site = ENGLAND) -> float:
    """Return the per cent of a full crop from the ``kind``-th way of starting a crop on a day."""
    found = CATALOGUE.crop(crop)
    return 100 * growing(found, found.starts[kind], OPEN, where).share_of_start(date(2027, month, day))


def _weakness(why: str) -> pytest.MarkDecorator:
    return pytest.mark.xfail(reason=why, strict=True)


# Trial or handbook, crop, kind of start, day, least and most per cent of a full crop.
SIZES = [
    pytest.param("potato", 0, (5, 1), 90, 100, id="L01: potatoes lose little before 7 May"),
    pytest.param("potato", 0, (7, 15), 0, 25, id="E01 E06: a usual potato planted in mid July is no crop"),
    pytest.param("beetroot", 0, (7, 15), 25, 80, id="E01: beetroot of July is small but useful"),
    pytest.param("broad bean", 0, (4, 1), 80, 100, id="L21: spring beans sown February to April are alike"),
    pytest.param("sweet corn", 0, (7, 6), 0, 10, id="L27: sweet corn sown on 6 July fails"),
    pytest.param("bush bean", 0, (7, 31), 0, 25, id="E01: bush beans are useless after July"),
    pytest.param(
        *("potato", 0, (5, 8), 80, 97.5),
        id="L02: potatoes two to three weeks late give 5 to 10 % less",
    ),
    pytest.param(
        *("beetroot", 0, (5, 11), 100 * (1 - 2 * 18 / 105), 100 * (1 - 18 / 105 / 2)),
        id="L04: sugar beet sown on 11 May gives 87 where the best gives 105",
        marks=_weakness("model: 95 % (best 100), for beetroot is lifted when ripe and not in autumn"),
    ),
    pytest.param(
        *("beetroot", 0, (8, 15), 0, 25),
        id="E01: beetroot of mid August is not worth counting",
        marks=_weakness("model: 49 %"),
    ),
    pytest.param(
        *("garlic", 1, (3, 1), 63 - 16, 80 + 10),
        id="L14: spring garlic gives 63 to 80 % of autumn garlic",
    ),
    pytest.param(
        *("leek", 0, (5, 15), 50, 100),
        id="E50: leeks set out in May are the main crop",
    ),
]


@pytest.mark.parametrize(("crop", "kind", "day", "least", "most"), SIZES)
def test_share_of_a_late_start(crop: str, kind: int, day: tuple[int, int], least: float, most: float) -> None:
    assert least <= _share(crop, *day, kind) <= most


@pytest.mark.parametrize(
    ("crop", "day", "most"),
    [
        pytest.param("Brussels sprouts", (7, 15), 20, id="E39: sprouts set out in mid July give 0 to 20 %"),
        pytest.param("sweet corn", (6, 1), 50, id="L26: no cobs from early June sowing (Glasgow)"),
    ],
)
def test_what_fails_in_scotland(crop: str, day: tuple[int, int], most: float) -> None:
    assert _share(crop, *day, where=NORTH) <= most


def test_onion_sets_lose_by_lateness() -> None:
    assert _share("onion", 3, 15) > _share("onion", 4, 21)


@pytest.mark.xfail(reason="known weakness: the model loses some 6 %, a sixth of the published 35 %", strict=True)
def test_onions_sown_on_21_april_lose_a_third() -> None:
    # L09, Wellesbourne: of the light, which bulbs follow, 45 % against 69 % is taken: 35 % less; half of it at least.
    assert 1 - _share("onion", 4, 21) / _share("onion", 3, 15) >= 0.35 / 2


@pytest.mark.parametrize("crop", ["potato", "beetroot", "carrot", "onion", "broad bean", "sweet corn"])
def test_from_may_on_no_later_start_gives_more(crop: str) -> None:
    # L01, L04, L08, L09, L21 and L27: the direction alone.
    shares = [_share(crop, month, day) for month in (5, 6, 7) for day in (1, 8, 15, 22)]
    assert shares == sorted(shares, reverse=True)
    assert shares[-1] < shares[0]


def test_every_row_names_its_source() -> None:
    assert len(PUBLISHED) >= 13
    assert all(row["source"] and row["result"] for row in PUBLISHED)
