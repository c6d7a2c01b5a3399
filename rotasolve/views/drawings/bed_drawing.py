"""A bed in one garden year from above, with every plant at its place: its parts and stages side by side.

The pole side (north; south in the southern hemisphere) is up and strips run from there down; the picture is turned,
never mirrored: where south is up, west is right. Plantings carry the numbers of the words or the table below, which say
all that is drawn. What many beds have in common stands once in the definitions, and the style says how lines and
letters look: hundreds of plantings must stay a page that can be mailed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_year
from rotasolve.domain.strips import part_breadth_cm, parts_of, strip_depth_cm, strips_per_part
from rotasolve.relations.ground.lie_of_beds import part_and_row
from rotasolve.relations.ground.plant_places import plant_rows
from rotasolve.views.drawings.family_marks import family_marks
from rotasolve.views.drawings.hatch_fields import SharedParts
from rotasolve.views.drawings.site_layout import say_up
from rotasolve.views.drawings.svg import (
    NOTHING,
    WIDTH,
    Drawing,
    Markup,
    box,
    element,
    join,
    label,
    number,
    text_width,
    with_words,
)
from rotasolve.views.words.bed_year import Panel, panels_of, row_runs, say_bed, say_crops, say_missing, say_panels
from rotasolve.views.words.look import Look
from rotasolve.views.words.wording import clean, say_length

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.ground.plant_places import PlantRow

_LABELS, _APART = 22, 14
_TALLEST, _BROADEST, _MOST_SCALE = 330, 330, 1.6
_LEAST_DEEP, _LEAST_WIDE = 12, 40
_TOP, _FOOT = 34, 38
_CAPTION, _CAPTION_AT = 14, 32


@dataclass(frozen=True)
class _Frame:
    """A bed as it is drawn: units for a strip's depth, for a part's breadth, and from panel to panel."""

    garden: Garden
    bed: Bed
    deep: int
    wide: int
    pitch: int

    @property
    def down(self) -> float:
        """Units for a cm from the pole side."""
        return self.deep / strip_depth_cm(self.bed)

    @property
    def across(self) -> float:
        """Units for a cm from the west: a very narrow part is drawn wider than true to scale."""
        return self.wide / part_breadth_cm(self.bed)

    @property
    def south(self) -> bool:
        return self.garden.scenario.site.south


def bed_drawing(garden: Garden, plan: Plan, bed_name: str, year: int, inches: bool = False) -> Drawing:
    """Return the file of a bed in a garden year, all that is drawn said in words below.

    Parameters
    ----------
    garden
        The garden of the plan.
    plan
        The plan; its plantings may break rules, they are drawn as they are written.
    bed_name
        The bed.
    year
        The garden year.
    inches
        Whether lengths are said in inches and feet. Default: no.
    """
    look, parts, panels = Look(inches=inches), SharedParts(), panels_of(garden, plan, bed_name, year)
    bed, said = garden.beds[bed_name], say_year(year, garden.scenario.site.south)
    how = f"{say_bed(garden, bed_name, look)}, strips of {say_length(strip_depth_cm(bed), look)}."
    how += f" {say_up(garden.scenario.site.south)} Every dot is a plant."
    how += f" Parts are counted from the west, {parts_of(bed)} in all." if parts_of(bed) > 1 else ""
    crops = say_crops(stay for panel in panels for _, stay in panel.stays)
    return with_words(
        bed_ground(garden, panels, bed_name, parts),
        title=f"{bed_name}, {said}",
        how=f"{how} {say_missing(garden, plan, bed_name, look)}".rstrip(),
        words=say_panels(garden, panels, year, look),
        description=f"{clean(bed_name)} in {said}, seen from above: {crops}.",
        definitions=parts.definitions(),
    )


def bed_ground(garden: Garden, panels: tuple[Panel, ...], bed_name: str, parts: SharedParts) -> Drawing:
    """Return the picture of a bed's ground in the garden year of its panels."""
    captions = [_caption(garden.beds[bed_name], panel) for panel in panels]
    frame = _frame(garden, garden.beds[bed_name], captions)
    marks = family_marks(garden.catalogue)
    plots, over, places = [], list[Markup](), list[tuple[int, int, int]]()
    for nth, panel in enumerate(panels):
        left = _LABELS + nth * frame.pitch
        first = (panel.part - 1) * strips_per_part(frame.bed) + 1
        over.append(parts.use(_outline(frame, first, captions[nth]), left, _TOP))
        for told, stay in panel.stays:
            runs = row_runs([part_and_row(frame.bed, strip)[1] for strip in stay.strips])
            begin = runs[0][0]
            mark = marks[garden.crops[stay.crop].family]
            plot = [parts.ground(mark, frame.wide, run * frame.deep, y=(row - begin) * frame.deep) for row, run in runs]
            rows = _rows_in(frame, stay.planting, panel.part)
            if rows:
                plot.append(_plants(frame, rows, (panel.part - 1) * part_breadth_cm(frame.bed), begin))
            top = _TOP + (begin - 1) * frame.deep
            plots.append(parts.use(join(plot), left, top))
            places.append((told, left + frame.wide // 2 + _beside(frame, rows), top + runs[0][1] * frame.deep // 2 + 5))
    return Drawing(
        title="Ground",
        width=max(WIDTH, _LABELS + len(panels) * frame.pitch - _APART),
        height=_TOP + strips_per_part(frame.bed) * frame.deep + _FOOT,
        body=join([element("g", *plots, class_="plants"), *over, _numbers(places)]),
    )


def _numbers(places: list[tuple[int, int, int]]) -> Markup:
    """Return numbers, the middle of each at its (number, x, y); those of one digit share one element."""
    single = [place for place in places if place[0] < 10]
    if not single:
        return NOTHING
    across, down = (" ".join(str(place[nth]) for place in single) for nth in (1, 2))
    digits = element("text", "".join(str(told) for told, _, _ in single), x=across, y=down)
    return element("g", digits, *(label(x, y, str(told)) for told, x, y in places if told >= 10), class_="numbers")


def _frame(garden: Garden, bed: Bed, captions: list[str]) -> _Frame:
    breadth, depth = part_breadth_cm(bed), strip_depth_cm(bed)
    room = (WIDTH + _APART) / len(captions) - _LABELS - _APART
    scale = min(_TALLEST / (depth * strips_per_part(bed)), min(room, _BROADEST) / breadth, _MOST_SCALE)
    # Whole units for strips keep the file small; a strip too thin for its number is thicker than true to scale.
    deep = max(_LEAST_DEEP, int(depth * scale))
    wide = max(_LEAST_WIDE, round(breadth * deep / depth))
    caption = max(text_width(text, _CAPTION) for text in captions)
    return _Frame(garden, bed, deep, wide, max(wide + _APART, _CAPTION_AT + math.ceil(caption)) + _LABELS)


def _caption(bed: Bed, panel: Panel) -> str:
    stage = "" if panel.stages == 1 else "first" if panel.stage == 1 else "then"
    return f"part {panel.part} {stage}".rstrip() if parts_of(bed) > 1 else stage


def _outline(frame: _Frame, first: int, caption: str) -> Markup:
    """Return a part's bare edges with its strips' numbers from ``first`` on, a caption, and which side is which."""
    strips = strips_per_part(frame.bed)
    pole, west, east = ("S", "E", "W") if frame.south else ("N", "W", "E")
    foot = strips * frame.deep
    lines = "".join(f"M0 {nth * frame.deep}h{frame.wide}" for nth in range(1, strips))
    told = [label(-5, round((nth + 0.5) * frame.deep + 4), str(first + nth)) for nth in range(strips)]
    return join(
        (
            element("path", d=box(0, 0, frame.wide, foot), class_="edge"),
            element("path", d=lines, class_="strips") if lines else NOTHING,
            element("path", d="M1-8l6-14 6 14z"),
            label(17, -9, pole, bold=True),
            label(_CAPTION_AT, -9, caption) if caption else NOTHING,
            element("g", *told, class_="strip-numbers"),
            label(0, foot + 15, west, 12),
            label(frame.wide, foot + 15, east, 12, anchor="end"),
        )
    )


def _rows_in(frame: _Frame, planting: Planting | None, part: int) -> list[PlantRow]:
    """Return a planting's rows in a part; what is left from before the plan has none."""
    breadth = part_breadth_cm(frame.bed)
    rows = plant_rows(frame.garden, planting) if planting is not None else ()
    return [row for row in rows if int(row.from_west_cm / breadth) + 1 == part]


def _plants(frame: _Frame, rows: list[PlantRow], west: float, begin: int) -> Markup:
    """Return rows of plants, measured from a part's west edge (cm) and from the pole side of its strip ``begin``.

    Plants are lines cut into dots of no length, drawn with a round pen. The lines run along the rows, or across them
    where these are fewer. Each ends a quarter of a gap after its last plant, so that no rounding can lose it.
    """
    top, first = (begin - 1) * strip_depth_cm(frame.bed), rows[0]
    gap = first.gap_cm * frame.across
    apart = (rows[1].from_pole_cm - first.from_pole_cm) * frame.down if len(rows) > 1 else gap
    even = all(
        abs((row.from_pole_cm - first.from_pole_cm) * frame.down - n * apart) < 0.02 for n, row in enumerate(rows)
    )
    across = even and rows[-1].plants == first.plants < len(rows)

    def at(west_cm: float, pole_cm: float) -> str:
        along = (west_cm - west) * frame.across
        return f"M{number(frame.wide - along if frame.south else along)} {number((pole_cm - top) * frame.down)}"

    if across:
        places = [first.from_west_cm + nth * first.gap_cm for nth in range(first.plants)]
        lines = [f"{at(place, first.from_pole_cm)}v{number((len(rows) - 0.75) * apart)}" for place in places]
    else:
        turn = -gap if frame.south else gap
        lines = [f"{at(row.from_west_cm, row.from_pole_cm)}h{number((row.plants - 0.75) * turn)}" for row in rows]
    dot = max(min(gap, apart, 20 * frame.down) * 0.42, 1.6)
    return element(
        "path",
        d="".join(lines),
        stroke_width=min(dot, gap * 0.8, apart * 0.8),
        stroke_dasharray=f"0 {number(apart if across else gap, 3)}",
    )


def _beside(frame: _Frame, rows: list[PlantRow]) -> int:
    """Return how far right of the middle a number hides no plant that stands there, if plants are far enough apart."""
    if not rows or rows[0].plants % 2 == 0:
        return 0
    return round(rows[0].gap_cm * frame.across / 2) if rows[0].plants > 1 else min(16, frame.wide // 2 - 8)
