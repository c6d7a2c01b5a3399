from __future__ import annotations

import pytest

from rotasolve.domain.bed import Bed
from rotasolve.domain.strips import part_breadth_cm, parts_of, strip_depth_cm, strips_per_part


@pytest.mark.parametrize(
    ("fields", "strips", "depth", "parts", "breadth"),
    [
        # 400 / 60 = 6.67, rounded to 7 strips of 400 / 7.
        ({"length": "4 m", "width": "1.2 m"}, 7, 400 / 7, 1, 120),
        ({"length": "4 m", "width": "1.2 m", "runs": "east-west"}, 2, 60, 2, 200),
        ({"length": "1.2 m", "width": "1 m", "cover": "cold frame"}, 4, 30, 1, 100),
        ({"length": "20 cm", "width": "20 cm"}, 1, 20, 1, 20),
        # A given strip is kept: 4 of 55 cm, and 20 cm are left over.
        ({"length": "2.4 m", "width": "1 m", "strip": "55 cm"}, 4, 55, 1, 100),
        # 12 ft of 2 ft strips are 6, although 365.76 / 60.96 is not exact in floats.
        ({"length": "12 ft", "width": "1 m", "strip": "2 ft"}, 6, 60.96, 1, 100),
        ({"length": "1 m", "width": "3 m", "strip": "1.1 m"}, 0, 110, 1, 300),
        ({"length": "1 m", "width": "3.01 m"}, 2, 50, 2, 150.5),
        ({"length": "1 m", "width": "3 m", "parts": 3}, 2, 50, 3, 100),
    ],
)
def test_bed_is_cut(fields: dict[str, object], strips: int, depth: float, parts: int, breadth: float) -> None:
    bed = Bed.model_validate({"name": "a", **fields})
    assert strips_per_part(bed) == strips
    assert strip_depth_cm(bed) == pytest.approx(depth)
    assert parts_of(bed) == parts
    assert part_breadth_cm(bed) == pytest.approx(breadth)
