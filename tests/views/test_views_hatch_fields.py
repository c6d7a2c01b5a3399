"""Fields of hatch lines have the lines of the family marks' tiles, no more and no fewer."""

from __future__ import annotations

import math
import re

import pytest

from rotasolve.views.drawings.family_marks import HATCHES, FamilyMark
from rotasolve.views.drawings.hatch_fields import TALL, WIDE, SharedParts, hatch_field
from rotasolve.views.drawings.svg import Markup, box, element

TILE = 12
CORNER = (5 * TILE, 7 * TILE)
"""The tile that is looked at, away from the edges."""
_NUMBER = r"-?\d*\.?\d+"


def mark(hatch: str) -> FamilyMark:
    return FamilyMark("Family", "Family", 3, "blue", hatch)


def segments_of(path: str) -> list[tuple[float, float, float, float]]:
    """Return the segments of a path of absolute and relative lines."""
    found, x, y, begin = [], 0.0, 0.0, (0.0, 0.0)
    for letter, rest in re.findall(r"([MLHVlhvmZz])([^MLHVlhvmZz]*)", path):
        numbers = [float(n) for n in re.findall(_NUMBER, rest)]
        if letter in "Zz":
            found.append((x, y, *begin))
            x, y = begin
            continue
        while numbers:
            dx, dy = x, y
            if letter in "Hh":
                x = numbers.pop(0) + (x if letter == "h" else 0)
            elif letter in "Vv":
                y = numbers.pop(0) + (y if letter == "v" else 0)
            else:
                first, second = numbers.pop(0), numbers.pop(0)
                x, y = (first + x, second + y) if letter in "lm" else (first, second)
            if letter in "Mm":
                begin = (x, y)
            else:
                found.append((dx, dy, x, y))
    return found


def along_and_beside(segment: tuple[float, float, float, float], x: float, y: float) -> tuple[float, float, float]:
    """Return how far along a segment a point lies, how far beside it, and the segment's length."""
    x1, y1, x2, y2 = segment
    length = math.hypot(x2 - x1, y2 - y1)
    ux, uy = (x2 - x1) / length, (y2 - y1) / length
    return (x - x1) * ux + (y - y1) * uy, abs((y - y1) * ux - (x - x1) * uy), length


def in_tile(hatch: str, x: float, y: float) -> float:
    """Return the distance of a point from the nearest line of the tile or of the tiles around it."""
    nearest = 99.0
    for x1, y1, x2, y2 in segments_of(HATCHES[hatch]):
        for right in (-TILE, 0, TILE):
            for down in (-TILE, 0, TILE):
                along, beside, length = along_and_beside((x1 + right, y1 + down, x2 + right, y2 + down), x, y)
                nearest = min(nearest, math.hypot(beside, max(-along, along - length, 0)))
    return nearest


def covered(field: Markup, x: float, y: float) -> bool:
    """Return whether a field paints a point: by dashes along its strokes, through its bands."""
    for clip, path, width, dashes in re.findall(
        r'(?:<clipPath id="[^"]*"><path d="([^"]*)"/></clipPath><g [^>]*>)?'
        r'<path d="(?![^"]*z")([^"]*)" stroke-width="([^"]*)"(?: stroke-dasharray="([^"]*)")?/>',
        field,
    ):
        bands = [tuple(map(float, re.findall(_NUMBER, band))) for band in re.findall(r"M[^z]*z", clip)]
        if clip and not any(bx <= x <= bx + w and by <= y <= by + h for bx, by, w, h, *_ in bands):
            continue
        down = y % TILE if "-0" in field and not dashes else y
        pattern = [float(one) for one in dashes.split()]
        for segment in segments_of(path):
            along, beside, length = along_and_beside(segment, x, down)
            if beside > float(width) / 2 or not 0 <= along <= length:
                continue
            at = along % sum(pattern) if pattern else 0.0
            if not pattern or any(sum(pattern[:n]) <= at <= sum(pattern[: n + 1]) for n in range(0, len(pattern), 2)):
                return True
    return False


@pytest.mark.parametrize("hatch", [name for name in HATCHES if name != "tents"])
def test_a_field_has_the_lines_of_the_tile(hatch: str) -> None:
    field = hatch_field(mark(hatch))
    steps = [n * 0.37 for n in range(33)]
    for right in steps:
        for down in steps:
            x, y = right % TILE, down % TILE
            distance, painted = in_tile(hatch, x, y), covered(field, CORNER[0] + x, CORNER[1] + y)
            # Lines are 1.1 broad; at ends and corners a stroke may stop short or stand over.
            if distance > 0.9:
                assert not painted, (x, y)
            elif distance < 0.3 and hatch not in ("zigzag", "steps"):
                ends = {round(v % TILE, 1) for one in segments_of(HATCHES[hatch]) for v in one}
                if min(abs(x - end) for end in ends) > 0.5 and min(abs(y - end) for end in ends) > 0.5:
                    assert painted, (x, y)


def test_a_plain_mark_has_no_field_and_every_other_one_has() -> None:
    assert [name for name in HATCHES if not hatch_field(mark(name))] == ["plain"]


def test_a_row_of_tiles_is_repeated_down_to_the_edge() -> None:
    field = hatch_field(mark("zigzag"))
    steps = [int(y) for y in re.findall(r' y="(\d+)"', field)]
    assert steps == [12 * 2**n for n in range(len(steps))]
    assert steps[-1] < TALL <= 2 * steps[-1]


def test_a_drawing_s_patterns_become_fields_where_these_reach() -> None:
    here, far = box(10, 20, 30, 40), box(0, 20, WIDE + 1, 40)
    parts, one = SharedParts(), mark("grid")
    told = [
        element("path", d=here + box(50, 2000, 30, 40), fill=one.fill, stroke="#1a1a1a"),
        element("path", d=far, fill=one.fill, stroke="#1a1a1a"),
        element("path", d="M1 1l4 5-9 9z", fill=one.fill, stroke="#1a1a1a"),
    ]
    drawn = parts.with_fields(Markup("".join(told)), [one])
    assert drawn.endswith("".join(told[1:]))
    assert drawn.startswith('<g stroke="#1a1a1a"><use href="#p0" x="10" y="20"/><use href="#p0" x="50" y="2000"/></g>')
    assert '<g id="p0"><use href="#m3" width="30" height="40"/></g>' in parts.definitions()
    assert '<symbol id="m3"><rect width="100%" height="100%"' in parts.definitions()


def test_a_field_s_strokes_end_as_they_are_whatever_the_drawing_says_of_ends() -> None:
    assert 'stroke-linecap="butt"' in hatch_field(mark("grid"))
