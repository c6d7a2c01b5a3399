"""Fields of hatch lines have the lines of the family marks' tiles, no more and no fewer."""

from __future__ import annotations

import math
import re

import pytest

from rotasolve.views.drawings.family_marks import HATCHES, FamilyMark
from rotasolve.views.drawings.hatch_fields import TALL, WIDE, SharedParts, hatch_field
from rotasolve.views.drawings.svg import Drawing, Markup
from tests.helpers.drawn import grounds_of, parsed

TILE = 12
TILES = {
    "rising lines": "M-3 3L3 -3M0 12L12 0M9 15L15 9",
    "level lines": "M0 3H12M0 9H12",
    "lattice": "M0 0L12 12M0 12L12 0",
    "upright lines": "M3 0V12M9 0V12",
    "zigzag": "M0 8L3 4L6 8L9 4L12 8",
    "falling lines": "M-3 9L3 15M0 0L12 12M9 -3L15 3",
    "grid": "M0 6H12M6 0V12",
    "level dashes": "M1 3H6M7 9H12",
    "crosses": "M3 6H9M6 3V9",
    "upright dashes": "M3 1V6M9 7V12",
    "steps": "M0 9H6V3H12V9",
    "bricks": "M0 0H12M0 6H12M3 0V6M9 6V12",
    "double level lines": "M0 4H12M0 7H12",
    "double rising lines": "M-1 1L1 -1M0 12L12 0M-1 9L9 -1M7 13L13 7M11 13L13 11",
    "tents": "M2 9L6 3L10 9Z",
    "plain": "",
    "double upright lines": "M4 0V12M7 0V12",
}
"""The lines of each hatch in a tile of 12 by 12, as a drawing of one tile would have them."""
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
    for x1, y1, x2, y2 in segments_of(TILES[hatch]):
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
                ends = {round(v % TILE, 1) for one in segments_of(TILES[hatch]) for v in one}
                if min(abs(x - end) for end in ends) > 0.5 and min(abs(y - end) for end in ends) > 0.5:
                    assert painted, (x, y)


def test_a_plain_mark_has_no_field_and_every_other_one_has() -> None:
    assert [name for name in HATCHES if not hatch_field(mark(name))] == ["plain"]


def test_a_row_of_tiles_is_repeated_down_to_the_edge() -> None:
    field = hatch_field(mark("zigzag"))
    steps = [int(y) for y in re.findall(r' y="(\d+)"', field)]
    assert steps == [12 * 2**n for n in range(len(steps))]
    assert steps[-1] < TALL <= 2 * steps[-1]


def test_every_hatch_has_a_tile_and_no_two_the_same() -> None:
    assert tuple(TILES) == HATCHES
    assert len(set(TILES.values())) == len(TILES)


def test_a_ground_is_a_field_cut_off_at_its_size() -> None:
    parts, one = SharedParts(), mark("grid")
    assert parts.use(parts.ground(one, 30, 40), 10, 20) == '<use href="#p0" x="10" y="20"/>'
    assert parts.use(parts.ground(one, 30, 40), 50) == '<use href="#p0" x="50"/>'
    assert '<g id="p0"><use href="#m3" width="30" height="40"/></g>' in parts.definitions()
    assert '<symbol id="m3"><rect width="100%" height="100%"' in parts.definitions()


def test_a_ground_larger_than_a_field_is_made_of_fields_that_meet_where_tiles_end() -> None:
    parts = SharedParts()
    drawn = parts.ground(mark("bricks"), WIDE + 100, 2 * TALL + 5, 7, 11)
    root = parsed(Drawing("x", 900, 900, drawn, definitions=parts.definitions()).standalone())
    fields = grounds_of(root, "m3")
    assert len(fields) == 6
    assert all((left - 7) % TILE == (top - 11) % TILE == 0 for left, top, _, _ in fields)
    area = sum((right - left) * (foot - top) for left, top, right, foot in fields)
    edges = [sorted(box[nth] for box in fields) for nth in range(4)]
    # No two overlap, so their areas add up to that of all; what stands over the ground is cut off by its shape.
    assert area == (edges[2][-1] - 7) * (edges[3][-1] - 11)
    assert 0 <= edges[2][-1] - (7 + WIDE + 100) <= 1
    assert 0 <= edges[3][-1] - (11 + 2 * TALL + 5) <= 1
    right, foot = 107 + WIDE, 16 + 2 * TALL
    shape = f"M7 11L{right} 11L{right} {foot}L7 {foot}z"
    assert f'<clipPath id="c0"><path d="{shape}"/></clipPath>' in parts.definitions()


def test_a_turned_ground_is_seen_through_its_shape_and_its_hatch_is_not_turned() -> None:
    parts, corners = SharedParts(), ((10.5, 0.0), (20.0, 9.0), (9.0, 20.0), (0.0, 10.0))
    drawn = parts.shape(mark("grid"), corners)
    assert "rotate" not in drawn + parts.definitions()
    path = "M10.5 0L20 9L9 20L0 10z"
    assert f'<clipPath id="c0"><path d="{path}"/></clipPath>' in parts.definitions()
    assert '<g clip-path="url(#c0)"><use href="#m3" width="21" height="21"/></g>' in drawn
    assert drawn.endswith(f'<path d="{path}" fill="none"/>')


def test_a_field_s_strokes_end_as_they_are_whatever_the_drawing_says_of_ends() -> None:
    assert 'stroke-linecap="butt"' in hatch_field(mark("grid"))
