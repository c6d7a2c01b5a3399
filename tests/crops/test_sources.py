"""Every figure names a source that is described, and every described source is used."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rotasolve.domain.catalogue import Catalogue

CROP_FILES = sorted((Path(__file__).parents[2] / "crops").iterdir())
# Written in two halves, so that this file does not hold what it forbids.
REGISTRY_HOSTS = ("py" + "pi.org", "npm" + "js.", "deb." + "debian", "registry" + ".yarn")


def _source_keys(data: object) -> Iterator[str]:
    if isinstance(data, dict):
        for field, value in data.items():
            if field == "source":
                yield from value
            else:
                yield from _source_keys(value)
    elif isinstance(data, list | tuple):
        for value in data:
            yield from _source_keys(value)


def _used(catalogue: Catalogue) -> set[str]:
    return set(_source_keys(catalogue.model_dump(exclude={"sources"})))


def test_every_source_that_is_used_is_described(catalogue: Catalogue) -> None:
    assert _used(catalogue) - catalogue.sources.keys() == set()


def test_every_source_that_is_described_is_used(catalogue: Catalogue) -> None:
    assert catalogue.sources.keys() - _used(catalogue) == set()


def test_every_source_has_a_title_and_a_place_or_publisher(catalogue: Catalogue) -> None:
    without = [
        key
        for key, source in catalogue.sources.items()
        if not source.title or not (source.publisher or source.address or source.how_read)
    ]
    assert without == []


@pytest.mark.parametrize("file", CROP_FILES, ids=lambda file: file.name)
def test_files_are_plain_and_name_no_package_registry(file: Path) -> None:
    text = file.read_text(encoding="utf-8")
    assert "\t" not in text
    assert text.endswith("\n")
    assert max(map(len, text.splitlines())) < 120
    assert not [host for host in REGISTRY_HOSTS if host in text.lower()]


# What the collected facts mark as memory, no publication having been read.
@pytest.mark.parametrize(
    ("crop", "field"),
    [
        ("corn salad", "stands_to"),
        ("corn salad", "height"),
        ("swede", "yield_per_area"),
        ("basil", "least_night"),
        ("cucumber", "height"),
        ("rocket", "height"),
        ("kohlrabi", "standing_weeks"),
        ("radicchio", "height"),
        ("phacelia", "stands_to"),
        ("kale", "height"),
    ],
)
def test_figures_from_memory_say_so(catalogue: Catalogue, crop: str, field: str) -> None:
    assert "memory" in getattr(catalogue.crop(crop), field).source


@pytest.mark.parametrize("crop", ["rocket", "dill", "sunflower", "phacelia"])
def test_days_to_harvest_from_memory_say_so(catalogue: Catalogue, crop: str) -> None:
    assert all("memory" in start.days_to_harvest.source for start in catalogue.crop(crop).starts)


# What drives a plan. Where nobody published a figure, memory says so; more than one in ten would be guessing.
DRIVING = (
    "spacing_in_row",
    "spacing_between_rows",
    "hardiness",
    "stands_to",
    "harvest_weeks",
    "standing_weeks",
    "yield_per_plant",
    "yield_per_row",
    "yield_per_area",
)


def test_at_most_one_in_ten_driving_figures_is_from_memory(catalogue: Catalogue) -> None:
    figures = [getattr(crop, field) for crop in catalogue.crops for field in DRIVING]
    figures += [start.days_to_harvest for crop in catalogue.crops for start in crop.starts]
    sources = [figure.source for figure in figures if figure is not None]
    assert len(sources) > 450
    assert sum("memory" in keys for keys in sources) <= len(sources) / 10
    # Common practice is what everybody does, not another word for memory.
    assert sum(keys == ("common-practice",) for keys in sources) <= len(sources) / 10
