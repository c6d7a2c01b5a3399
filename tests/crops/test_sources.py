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
        ("runner bean", "hardiness"),
        ("broad bean", "hardiness"),
        ("garlic", "hardiness"),
        ("corn salad", "hardiness"),
        ("corn salad", "height"),
        ("basil", "hardiness"),
        ("basil", "least_night"),
        ("cucumber", "height"),
        ("rocket", "height"),
        ("pak choi", "spacing_in_row"),
        ("radicchio", "height"),
        ("phacelia", "hardiness"),
        ("kale", "height"),
    ],
)
def test_figures_from_memory_say_so(catalogue: Catalogue, crop: str, field: str) -> None:
    assert "memory" in getattr(catalogue.crop(crop), field).source


@pytest.mark.parametrize("crop", ["runner bean", "broad bean", "rocket", "pak choi", "swede", "celeriac"])
def test_days_to_harvest_from_memory_say_so(catalogue: Catalogue, crop: str) -> None:
    assert all("memory" in start.days_to_harvest.source for start in catalogue.crop(crop).starts)
