"""Where beds and obstacles lie in a drawing of the site: in cm from its upper left corner, turned by their bearings."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from rotasolve.views.drawings.svg import INK, PAPER, WIDTH, Markup, box, element, join, label, number, polygon
from rotasolve.views.words.wording import say_length

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed
    from rotasolve.domain.obstacle import Obstacle
    from rotasolve.domain.scenario import Scenario
    from rotasolve.views.words.look import Look

EDGE = 20
_MOST_WIDTH = 2000
_LEAST_SIDE = 64
"""The shorter side of the smallest bed in user units, if the page does not grow too wide for it."""
_MOST_SCALE = 0.9
APART_CM = 60
_SCALE_BARS_CM = (50, 100, 200, 500, 1000, 2000, 5000)
_SCALE_BARS_FT = (2, 4, 8, 20, 40, 80, 160)
_CM_PER_FOOT = 30.48


@dataclass(frozen=True)
class Lies:
    """A bed or an obstacle with its number and its upper left corner, before it is turned, in cm from the drawing's."""

    number: int
    thing: Bed | Obstacle
    right: float
    down: float
    degrees: float = 0

    @property
    def reach(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom in cm as it lies turned."""
        wide, deep, angle = self.thing.breadth_cm, self.thing.depth_cm, math.radians(self.degrees)
        half = (wide * math.cos(angle) + deep * abs(math.sin(angle))) / 2
        high = (deep * math.cos(angle) + wide * abs(math.sin(angle))) / 2
        across, along = self.right + wide / 2, self.down + deep / 2
        return across - half, along - high, across + half, along + high


@dataclass(frozen=True)
class Turn:
    """A turn of so many degrees clockwise about a place."""

    degrees: float
    x: float
    y: float

    def of(self, x: float, y: float) -> tuple[float, float]:
        """Return where a place comes to lie."""
        angle, across, down = math.radians(self.degrees), x - self.x, y - self.y
        return (
            self.x + across * math.cos(angle) - down * math.sin(angle),
            self.y + across * math.sin(angle) + down * math.cos(angle),
        )

    def corners(self, x: float, y: float, width: float, height: float) -> tuple[tuple[float, float], ...]:
        """Return where a rectangle's corners come to lie."""
        return tuple(self.of(x + a * width, y + b * height) for a, b in ((0, 0), (1, 0), (1, 1), (0, 1)))

    def box(self, x: float, y: float, width: float, height: float) -> str:
        """Return a rectangle as part of a path."""
        return polygon(self.corners(x, y, width, height)) if self.degrees else box(x, y, width, height)


def turn_of(lies: Lies, scale: float, left: float, top: float) -> Turn:
    """Return the turn of what lies in a drawing of a scale that begins at a corner."""
    across, along = lies.right + lies.thing.breadth_cm / 2, lies.down + lies.thing.depth_cm / 2
    return Turn(lies.degrees, left + across * scale, top + along * scale)


def placed_on(scenario: Scenario) -> list[Lies]:
    """Return the beds that have a place, and beside them the obstacles, numbered on after the last bed."""
    things: list[tuple[int, Bed | Obstacle, float, float]] = [
        (nth, bed, bed.east, bed.north)
        for nth, bed in enumerate(scenario.beds, start=1)
        if bed.east is not None and bed.north is not None
    ]
    if not things:
        return []
    first = len(scenario.beds) + 1
    things += [(nth, one, one.east, one.north) for nth, one in enumerate(scenario.obstacles, start=first)]
    if scenario.site.south:
        lying = [Lies(nth, one, -east - one.breadth_cm, north, one.bearing) for nth, one, east, north in things]
    else:
        lying = [Lies(nth, one, east, -north - one.depth_cm, one.bearing) for nth, one, east, north in things]
    left, top = (min(lies.reach[side] for lies in lying) for side in (0, 1))
    return [replace(lies, right=lies.right - left, down=lies.down - top) for lies in lying]


def loose_in(beds: tuple[Bed, ...]) -> list[Lies]:
    """Return the beds that have no place, side by side."""
    found: list[Lies] = []
    loose = [(n, bed) for n, bed in enumerate(beds, start=1) if not bed.is_placed]
    widest = max([6 * APART_CM, *(bed.breadth_cm for _, bed in loose)], default=0)
    row_of = max(widest, sum(bed.breadth_cm + APART_CM for _, bed in loose) ** 0.5 * 30)
    right = down = deepest = 0.0
    for told, bed in loose:
        if right and right + bed.breadth_cm > row_of:
            right, down, deepest = 0.0, down + deepest + APART_CM, 0.0
        found.append(Lies(told, bed, right, down))
        right += bed.breadth_cm + APART_CM
        deepest = max(deepest, bed.depth_cm)
    return found


def scale_of(beds: tuple[Bed, ...], lying: list[Lies]) -> float:
    """Return the user units for a cm."""
    across = max(lies.reach[2] for lies in lying)
    fits = (WIDTH - 2 * EDGE) / across
    wished = _LEAST_SIDE / min(min(bed.breadth_cm, bed.depth_cm) for bed in beds)
    return min(_MOST_SCALE, max(fits, min(wished, (_MOST_WIDTH - 2 * EDGE) / across)))


def say_up(south: bool) -> str:
    """Say which side of a drawing is up."""
    pole, west = ("South", "right") if south else ("North", "left")
    return f"{pole} is up, west is {west}."


def compass(south: bool, scale: float, look: Look, top: float) -> tuple[Markup, float]:
    """Return the arrow to the pole and the scale bar side by side, and their height."""
    arrow = element("path", d=f"M{EDGE + 8} {number(top)}l9 22h-6v14h-6v-14h-6z", fill=INK)
    words = label(EDGE + 26, top + 28, "South" if south else "North", 14, bold=True)
    if look.inches:
        lengths = [(feet * _CM_PER_FOOT, f"{feet} ft") for feet in _SCALE_BARS_FT]
    else:
        lengths = [(float(cm), say_length(cm, look)) for cm in _SCALE_BARS_CM]
    cm, said = next(((cm, said) for cm, said in lengths if cm * scale >= 80), lengths[-1])
    x, long = EDGE + 170, cm * scale
    half = element("rect", x=x, y=top + 20, width=long / 2, height=8, fill=INK)
    bar = element("rect", x=x, y=top + 20, width=long, height=8, fill=PAPER, stroke=INK, stroke_width=1.5)
    return join((arrow, words, bar, half, label(x + long + 10, top + 29, said, 14, bold=True))), 56
