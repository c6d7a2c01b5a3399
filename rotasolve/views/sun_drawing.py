"""The sun on a site as drawings: a map for each month as SVG, and a page of them with the table as HTML."""

from __future__ import annotations

import math
from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import MONTHS
from rotasolve.domain.strips import part_breadth_cm, strip_depth_cm
from rotasolve.relations.site_sun import box_of, middle_of, strip_corner
from rotasolve.views.sun_page import sun_notes
from rotasolve.views.wording import clean, say_number, say_share

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from rotasolve.domain.scenario import Scenario
    from rotasolve.domain.sun import StripSun

MAP_WIDTH = 300.0
MARGIN = 14.0
HEADING = 30.0
FOOT = 30.0
"""Room under each map for its scale bar."""
BAR_LENGTHS_CM = (50, 100, 200, 500, 1000, 2000, 5000, 10000, 20000)
A_ROW = 3
DARK, BRIGHT = (58, 66, 92), (252, 214, 90)
"""Colours of a strip without sun and of one with the sun of open ground."""
DARK_INK_FROM = 0.34
"""Share of sun from which black numbers are easier to read than white ones."""
Corners = list[tuple[float, float]]


@dataclass(frozen=True)
class _Shape:
    corners: Corners
    obstacle: bool
    name: str
    strip: int = 0


def _rectangle(
    east: float, north: float, breadth: float, depth: float, about: tuple[float, float], turn: float
) -> Corners:
    """Return the corners of a rectangle from its south-west corner, turned clockwise about a place."""
    angle, corners = math.radians(turn), []
    for x, y in ((east, north), (east + breadth, north), (east + breadth, north + depth), (east, north + depth)):
        across, along = x - about[0], y - about[1]
        corners.append(
            (
                about[0] + across * math.cos(angle) + along * math.sin(angle),
                about[1] - across * math.sin(angle) + along * math.cos(angle),
            )
        )
    return corners


def _shapes(scenario: Scenario, found: Iterable[StripSun]) -> list[_Shape]:
    """Return the strips and obstacles that have a place."""
    beds, south = {bed.name: bed for bed in scenario.beds}, scenario.site.south
    shapes = []
    for name, strip in dict.fromkeys((sun.bed, sun.strip) for sun in found):
        bed = beds[name]
        if bed.is_placed:
            size = part_breadth_cm(bed), strip_depth_cm(bed)
            corners = _rectangle(*strip_corner(bed, strip, south), *size, middle_of(bed), bed.bearing)
            shapes.append(_Shape(corners, False, name, strip))
    for obstacle in scenario.obstacles:
        box, size = box_of(obstacle), (obstacle.breadth_cm, obstacle.depth_cm)
        corners = _rectangle(obstacle.east, obstacle.north, *size, (box.east, box.north), obstacle.bearing)
        shapes.append(_Shape(corners, True, obstacle.name))
    return shapes


def sun_svg(scenario: Scenario, found: Sequence[StripSun], standing: str = "") -> str:
    """Return one drawing with a map for each month, north up; each strip tells its hours where it is pointed at."""
    shapes, months = _shapes(scenario, found), list(dict.fromkeys(sun.month for sun in found))
    easts = [east for shape in shapes for east, _ in shape.corners] or [0.0, 1.0]
    norths = [north for shape in shapes for _, north in shape.corners] or [0.0, 1.0]
    scale = MAP_WIDTH / max(max(easts) - min(easts), max(norths) - min(norths), 1.0)
    width = (max(easts) - min(easts)) * scale + 2 * MARGIN
    height = (max(norths) - min(norths)) * scale + HEADING + FOOT + 2 * MARGIN
    width = max(width, 160.0)
    a_row = min(A_ROW, len(months))
    whole = (width * a_row, height * math.ceil(len(months) / a_row))
    title = escape(f"{clean(scenario.title)}: direct sun, hours a day{standing}")
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {whole[0]:.0f} {whole[1]:.0f}" '
        f'width="{whole[0]:.0f}" height="{whole[1]:.0f}" font-family="sans-serif" role="img" aria-label="{title}">',
        f"<title>{title}</title>",
    ]
    suns = {(sun.bed, sun.strip, sun.month): sun for sun in found}
    for number, month in enumerate(months):
        row, column = divmod(number, a_row)
        lines.append(f'<g transform="translate({column * width:.1f} {row * height:.1f})">')
        lines.append(f'<text x="{MARGIN:g}" y="{MARGIN + 8:g}" font-size="13">{MONTHS[month - 1]}, north up</text>')
        for shape in shapes:
            points = [
                ((east - min(easts)) * scale + MARGIN, (max(norths) - north) * scale + HEADING + MARGIN)
                for east, north in shape.corners
            ]
            lines += _drawn(shape, points, suns.get((shape.name, shape.strip, month)))
            lines += _named(shape, points)
        lines += [*_scale_bar(scale, height - FOOT), "</g>"]
    return "\n".join([*lines, "</svg>"]) + "\n"


def colours_of(share: float) -> tuple[str, str]:
    """Return the colours of a strip with a share of the open ground's sun, and of the number on it."""
    ground = (round(dark + (bright - dark) * share) for dark, bright in zip(DARK, BRIGHT, strict=True))
    return "#" + "".join(f"{value:02x}" for value in ground), "#000000" if share > DARK_INK_FROM else "#ffffff"


def _drawn(shape: _Shape, points: Corners, sun: StripSun | None) -> list[str]:
    """Return a strip with its hours, or an obstacle."""
    path = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
    if shape.obstacle or sun is None:
        name = escape(clean(shape.name))
        return [f'<polygon points="{path}" fill="#777" stroke="#333" stroke-width="1"><title>{name}</title></polygon>']
    fill, ink = colours_of(min(sun.hours / sun.open_hours, 1.0) if sun.open_hours else 0.0)
    told = (
        f"{clean(shape.name)}, strip {shape.strip}: {say_number(sun.hours)} h a day, {say_share(sun.share)} of the beam"
    )
    x, y = sum(x for x, _ in points) / 4, sum(y for _, y in points) / 4
    return [
        f'<polygon points="{path}" fill="{fill}" stroke="#333" stroke-width="0.5">'
        f"<title>{escape(told)}</title></polygon>",
        f'<text x="{x:.1f}" y="{y + 3:.1f}" font-size="8" text-anchor="middle" fill="{ink}" '
        f'pointer-events="none">{say_number(sun.hours)}</text>',
    ]


def _named(shape: _Shape, points: Corners) -> list[str]:
    """Return the name over a bed's first strip or on an obstacle, its white rim keeping it legible on any ground."""
    if shape.strip > 1:
        return []
    x = sum(x for x, _ in points) / 4
    y = sum(y for _, y in points) / 4 + 3 if shape.obstacle else min(y for _, y in points) - 3
    return [
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="9" text-anchor="middle" fill="#000" stroke="#fff" '
        f'stroke-width="2.5" paint-order="stroke" pointer-events="none">{escape(clean(shape.name))}</text>'
    ]


def _scale_bar(scale: float, y: float) -> list[str]:
    """Return a bar of a round length, no longer than a third of the map, with its length."""
    cm = max((length for length in BAR_LENGTHS_CM if length * scale <= MAP_WIDTH / 3), default=BAR_LENGTHS_CM[0])
    far = MARGIN + cm * scale
    told = f"{cm} cm" if cm < 100 else f"{cm // 100} m"
    return [
        f'<path d="M{MARGIN:g} {y:.1f}v6H{far:.1f}v-6" fill="none" stroke="#000" stroke-width="1"/>',
        f'<text x="{far + 4:.1f}" y="{y + 7:.1f}" font-size="9">{told}</text>',
    ]


def sun_html(scenario: Scenario, found: Sequence[StripSun], standing: str = "") -> str:
    """Return a page of its own, without scripts or anything from elsewhere: the maps, the table and the notes."""
    months = list(dict.fromkeys(sun.month for sun in found))
    suns = {(sun.bed, sun.strip, sun.month): sun for sun in found}
    title = escape(f"{clean(scenario.title)}: direct sun, hours a day{standing}")
    head = "".join(f'<th scope="col">{MONTHS[month - 1][:3]}</th>' for month in months)
    rows = []
    for bed, strip in dict.fromkeys((sun.bed, sun.strip) for sun in found):
        cells = "".join(f"<td>{say_number(suns[bed, strip, month].hours)}</td>" for month in months)
        rows.append(f'<tr><th scope="row">{escape(clean(bed))}, strip {strip}</th>{cells}</tr>')
    notes = "".join(f"<li>{escape(note)}</li>" for note in sun_notes(scenario, found))
    style = (
        "body{font-family:sans-serif;margin:1.5em}svg{max-width:100%;height:auto}td{text-align:right;padding:0 .5em}"
    )
    style += "th[scope=row]{text-align:left;font-weight:normal}"
    return (
        f'<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>{title}</title>'
        f"<style>{style}</style></head>\n"
        f"<body><h1>{title}</h1>\n{sun_svg(scenario, found, standing)}"
        f"<table><caption>Hours of direct sun a day on clear days</caption>\n"
        f"<thead><tr><td></td>{head}</tr></thead>\n<tbody>\n"
        + "\n".join(rows)
        + f"\n</tbody></table>\n<ul>{notes}</ul>"
        "</body></html>\n"
    )
