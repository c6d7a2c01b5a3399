"""How a bed is cut into strips and parts: the borders at which a strip or a part is added."""

from __future__ import annotations

import pytest

from rotasolve.domain.strips import part_breadth_cm, parts_of, strip_depth_cm, strips_per_part
from tests.helpers.tiny import bed


@pytest.mark.parametrize(
    ("depth", "cover", "strips"),
    [
        (89, "open ground", 1),  # 89 / 60 = 1.48
        (91, "open ground", 2),  # 91 / 60 = 1.52
        (150, "open ground", 2),  # 2.5 rounds to the even 2
        (44, "cold frame", 1),  # strips of 30 cm: 44 / 30 = 1.47
        (46, "cold frame", 2),
    ],
)
def test_without_a_strip_the_depth_is_shared_out(depth: float, cover: str, strips: int) -> None:
    ground = bed(length=depth, strip=None, cover=cover)
    assert strips_per_part(ground) == strips
    assert strip_depth_cm(ground) * strips == pytest.approx(depth)


@pytest.mark.parametrize(("depth", "strips"), [(119.9, 1), (120, 2), (179.9, 2)])
def test_a_given_strip_is_kept_and_the_rest_left_over(depth: float, strips: int) -> None:
    ground = bed(length=depth, strip=60.0)
    assert strips_per_part(ground) == strips
    assert strip_depth_cm(ground) == 60


@pytest.mark.parametrize(("breadth", "parts"), [(300, 1), (301, 2), (600, 2), (601, 3)])
def test_a_part_is_at_most_three_metres_broad(breadth: float, parts: int) -> None:
    ground = bed(width=breadth)
    assert parts_of(ground) == parts
    assert part_breadth_cm(ground) == pytest.approx(breadth / parts)


def test_the_side_from_north_to_south_is_the_depth() -> None:
    for runs, depth, breadth in (("north-south", 240, 120), ("east-west", 120, 240)):
        ground = bed(length=240.0, width=120.0, runs=runs)
        assert (ground.depth_cm, ground.breadth_cm) == (depth, breadth)
