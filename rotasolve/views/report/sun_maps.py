"""The sun on a site as drawings: a map for each month as SVG, and a page of them with the table as HTML.

The pole side is up, as in all drawings; where south is up, west is right.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.bed import Bed
from rotasolve.domain.seasons import MONTHS
from rotasolve.domain.strips import part_breadth_cm, parts_of, strip_depth_cm
from rotasolve.relations.ground.lie_of_beds import part_and_row
from rotasolve.views.drawings.site_layout import EDGE, Lies, compass, placed_on, say_up, turn_of
from rotasolve.views.drawings.svg import INK, PAPER, Drawing, Markup, element, join, label, opening, paragraph
from rotasolve.views.pages.sun_page import sun_notes
from rotasolve.views.report.html_pages import html_page
from rotasolve.views.report.report_parts import page_table
from rotasolve.views.words.layout import Column
from rotasolve.views.words.look import Look
from rotasolve.views.words.wording import clean, say_number, say_share

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from rotasolve.domain.scenario import Scenario
    from rotasolve.domain.sun import StripSun

    Suns = Mapping[tuple[str, int, int], StripSun]
    """By bed, strip and month."""

MAP_WIDTH = 300.0
"""The longer side of a month's map in user units."""
A_ROW = 3
_MONTH = 34
"""Room above each map for its month and the names of beds at its edge."""
_LEAST_CELL = 180.0
DARK, BRIGHT = (58, 66, 92), (252, 214, 90)
"""Colours of a strip without sun and of one with the sun of open ground."""
DARK_INK_FROM = 0.34
"""Share of sun from which black numbers are easier to read than white ones."""
_OBSTACLE = "#c9c9c9"


@dataclass(frozen=True)
class _Map:
    """A month's map: the scale in user units for a cm, the corner it begins at."""

    scenario: Scenario
    scale: float
    left: float
    top: float

    def corner(self, lies: Lies) -> tuple[float, float]:
        """Return the upper left corner of a bed or an obstacle before it is turned."""
        return self.left + lies.right * self.scale, self.top + lies.down * self.scale


def sun_drawing(scenario: Scenario, found: Sequence[StripSun], standing: str = "", *, inches: bool = False) -> Drawing:
    """Return one drawing with a map for each month; each strip tells its hours where it is pointed at.

    Parameters
    ----------
    scenario
        Where the beds and obstacles lie; those without a place are not drawn.
    found
        The sun of each strip in each month to be drawn.
    standing
        What the sun is beside, to be said in the title: ``" beside the crops of 2027"``.
    inches
        Whether the scale bar is in feet. Default: no.
    """
    lying, months = placed_on(scenario), list(dict.fromkeys(sun.month for sun in found))
    right, foot = (max((lies.reach[side] for lies in lying), default=1.0) for side in (2, 3))
    scale = MAP_WIDTH / max(right, foot, 1.0)
    a_row = max(1, min(A_ROW, len(months)))
    wide, high = max(right * scale + EDGE, _LEAST_CELL), foot * scale + _MONTH + EDGE
    width = max(wide * a_row + EDGE, 2 * MAP_WIDTH)
    title = _title(scenario, standing)
    how = f"{say_up(scenario.site.south)} The brighter a strip, the more sun. Grey: what stands beside the beds."
    parts, down = opening(EDGE, width, (title, 20), (how, 13), 8)
    pole, height = compass(scenario.site.south, scale, Look(inches=inches), down)
    names = ", ".join(f"{lies.number} {clean(lies.thing.name)}" for lies in sorted(lying, key=lambda one: one.number))
    listed, more = paragraph(EDGE, down + height, names, width - 2 * EDGE, 13)
    height += more + 12
    suns = {(sun.bed, sun.strip, sun.month): sun for sun in found}
    maps = []
    for nth, month in enumerate(months):
        left, top = EDGE + nth % a_row * wide, down + height + nth // a_row * high
        maps.append(label(left, top + 12, MONTHS[month - 1], 14, bold=True))
        maps.append(_month(_Map(scenario, scale, left, top + _MONTH), lying, suns, month))
    return Drawing(
        title=title,
        description=f"The beds of {clean(scenario.title)} to scale, each strip with its hours of direct sun a day.",
        width=width,
        height=round(down + height + math.ceil(len(months) / a_row) * high + EDGE),
        body=join([*parts, pole, listed, *maps]),
    )


def colours_of(share: float) -> tuple[str, str]:
    """Return the colours of a strip with a share of the open ground's sun, and of the number on it."""
    ground = (round(dark + (bright - dark) * share) for dark, bright in zip(DARK, BRIGHT, strict=True))
    return "#" + "".join(f"{value:02x}" for value in ground), "#000000" if share > DARK_INK_FROM else "#ffffff"


def _month(here: _Map, lying: list[Lies], suns: Suns, month: int) -> Markup:
    """Return a month's map: first what stands beside the beds, then strips, hours and numbers."""
    strips = [strip for lies in lying for strip in _strips(here, lies, suns, month)]
    hours: dict[tuple[str, float], list[Markup]] = {}
    for _, ink, size, told in strips:
        hours.setdefault((ink, size), []).append(told)
    letters = [element("g", *told, fill=ink, font_size=size) for (ink, size), told in hours.items()]
    numbers = [_number(here, lies) for lies in lying]
    return join(
        (
            element("g", *_obstacles(here, lying), fill=_OBSTACLE, stroke=INK, stroke_dasharray="5 3"),
            element("g", *(path for path, *_ in strips), stroke=INK, stroke_width=0.5),
            element(
                "g",
                *letters,
                element(
                    "g", *numbers, font_size=11, font_weight="bold", stroke=PAPER, stroke_width=3, paint_order="stroke"
                ),
                text_anchor="middle",
                pointer_events="none",
            ),
        )
    )


def _obstacles(here: _Map, lying: list[Lies]) -> Iterator[Markup]:
    for lies in lying:
        if not isinstance(lies.thing, Bed):
            x, y = here.corner(lies)
            size = lies.thing.breadth_cm * here.scale, lies.thing.depth_cm * here.scale
            path = turn_of(lies, here.scale, here.left, here.top).box(x, y, *size)
            yield element("path", element("title", lies.thing.name), d=path)


def _strips(here: _Map, lies: Lies, suns: Suns, month: int) -> Iterator[tuple[Markup, str, float, Markup]]:
    """Yield the ground of each strip of a bed, the ink and size of its number, and the number: its hours."""
    bed = lies.thing
    if not isinstance(bed, Bed):
        return
    turn, (x, y) = turn_of(lies, here.scale, here.left, here.top), here.corner(lies)
    wide, deep, parts = part_breadth_cm(bed) * here.scale, strip_depth_cm(bed) * here.scale, parts_of(bed)
    size = max(5.0, min(10.0, deep * 0.8))
    for strip in sorted(strip for name, strip, told_in in suns if (name, told_in) == (bed.name, month)):
        sun, (part, row) = suns[bed.name, strip, month], part_and_row(bed, strip)
        left = x + (parts - part if here.scenario.site.south else part - 1) * wide
        upper = y + (row - 1) * deep
        fill, ink = colours_of(min(sun.hours / sun.open_hours, 1.0) if sun.open_hours else 0.0)
        said = f"{bed.name}, strip {strip}: {say_number(sun.hours)} h a day, {say_share(sun.share)} of full sun"
        path = element("path", element("title", said), d=turn.box(left, upper, wide, deep), fill=fill)
        middle, level = turn.of(left + wide / 2, upper + deep / 2)
        yield path, ink, size, label(middle, level + size * 0.36, say_number(sun.hours))


def _number(here: _Map, lies: Lies) -> Markup:
    """Return the number over a bed or on an obstacle, as the list above the maps has it."""
    left, top, right, foot = (side * here.scale for side in lies.reach)
    level = top - 4 if isinstance(lies.thing, Bed) else (top + foot) / 2 + 4
    return label(here.left + (left + right) / 2, here.top + level, str(lies.number))


def sun_html(scenario: Scenario, found: Sequence[StripSun], standing: str = "", *, inches: bool = False) -> str:
    """Return a page of its own, without scripts or anything from elsewhere: the maps, the table and the notes."""
    months = list(dict.fromkeys(sun.month for sun in found))
    suns = {(sun.bed, sun.strip, sun.month): sun for sun in found}
    rows = [
        (f"{bed}, strip {strip}", *(say_number(suns[bed, strip, month].hours) for month in months))
        for bed, strip in dict.fromkeys((sun.bed, sun.strip) for sun in found)
    ]
    columns = [Column("Strip"), *(Column(MONTHS[month - 1][:3], number=True) for month in months)]
    return html_page(
        "sun.html",
        title=_title(scenario, standing),
        drawing=sun_drawing(scenario, found, standing, inches=inches) if placed_on(scenario) else None,
        table=page_table("Hours of direct sun a day on clear days", columns, rows),
        notes=sun_notes(scenario, found),
    )


def _title(scenario: Scenario, standing: str) -> str:
    return f"{clean(scenario.title)}: direct sun, hours a day{standing}"
