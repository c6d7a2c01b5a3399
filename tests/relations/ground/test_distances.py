"""Distances as growers say them, within the published range of each crop."""

from __future__ import annotations

import pytest

from rotasolve.domain.figure import Figure
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.ground.blocks import SPACING_TOLERANCE
from rotasolve.relations.ground.distances import rounded_cm, with_said_distances
from rotasolve.relations.ground.garden import make_garden
from tests.helpers.tiny import bed, catalogue, crop, figure, scenario

NAMES = ("spacing_in_row", "spacing_between_rows")


def _figure(low: float, typical: float, high: float) -> Figure:
    return Figure(low=low, typical=typical, high=high, unit="cm", source=("memory",))


# The inch is 2.54 cm: international yard and pound agreement, 1959.
@pytest.mark.parametrize(
    ("inches", "said"), [(24, 60), (18, 45), (12, 30), (36, 90), (8, 20), (6, 15), (4, 10), (3, 8), (2, 5), (1, 2.5)]
)
def test_inches_become_what_a_metric_grower_says(inches: float, said: float) -> None:
    assert rounded_cm(_figure(0.8 * inches * 2.54, inches * 2.54, 1.2 * inches * 2.54)) == said


def test_a_distance_stays_where_rounding_leaves_its_range() -> None:
    # 22 in are 55.88 cm: 55 is 1.6 per cent short of the range, which nobody measures; 27.5 is 8 per cent short of 30.
    assert rounded_cm(_figure(55.88, 55.88, 55.88)) == 55
    assert rounded_cm(_figure(27.4, 27.4, 27.4)) == 27.4


def test_every_crop_keeps_to_its_published_range() -> None:
    published = {crop.name: crop for crop in load_catalogue().crops}
    for said in with_said_distances(load_catalogue()).crops:
        for name in NAMES:
            source, figure_said = getattr(published[said.name], name), getattr(said, name)
            slack = 1 + SPACING_TOLERANCE
            assert source.least / slack <= figure_said.usual <= source.most * slack, said.name
            assert figure_said.source == source.source


def test_a_garden_says_in_what_it_is_measured() -> None:
    beet = crop("beet", "f", spacing_between_rows=figure(60.96, "cm"))
    shelf = catalogue([beet])
    # Two rows of 24 inches lack 1.92 cm in a bed of 1.2 m; two of 60 cm fit.
    ground = [bed(length=120.0, strip=60.0)]
    metric = make_garden(scenario(["beet"], ground), shelf)
    inches = make_garden(scenario(["beet"], ground, units="inches"), shelf)
    assert metric.room_for("beet", "bed", (1, 2)) == 2 * inches.room_for("beet", "bed", (1, 2))
