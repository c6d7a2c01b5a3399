"""A window from frost dates narrowed by the temperatures of the site: soil, nights, chill and heat.

Bulletins count a window's first day in weeks from the last frost and give a range of weeks. Within that range the
site's own temperatures decide: the window opens when the soil at 10 cm is warm enough to germinate (seed), the mean
night warm enough to set out, and the day's mean past the chill that makes young plants bolt; at the bulletins' last
date it opens anyway, with a note. Two things close single days whatever the bulletins say: soil so cold that seed
cannot germinate even if the estimate is off by its published error, and soil too hot to germinate. Heat is judged in
the open, because a cover is taken off or vented in hot weather.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from rotasolve.relations.reasons import Kind, Reason, say_degrees, say_short
from rotasolve.relations.site_climate import SOIL_DOUBT_C, air, nights, soil

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rotasolve.domain.catalogue import Cover
    from rotasolve.domain.climate import Climate
    from rotasolve.domain.crop import Crop, Start
    from rotasolve.domain.figure import Figure
    from rotasolve.domain.site import Risk
    from rotasolve.relations.daily_curves import Curve
    from rotasolve.relations.windows import Window

_DAY = timedelta(days=1)


@dataclass(frozen=True)
class _Gate:
    """A temperature to wait for: what reaches it, the curve, and the least value in degrees C."""

    kind: Kind
    what: str
    curve: Curve
    least: float
    figure: Figure

    def first_day(self, window: Window) -> date | None:
        """Return the first day of the window that is warm enough, None if no day is."""
        return next((day for day in _days(window.earliest, window.latest) if self.curve.on(day) >= self.least), None)


def narrowed(
    window: Window, crop: Crop, start: Start, cover: Cover, climate: Climate, risk: Risk, last_opening: date | None
) -> tuple[Window, ...]:
    """Return what the site's temperatures leave of a window: none, one or, around a hot summer, two.

    ``last_opening`` is the latest first day that any bulletin gives; None for windows that open in autumn, which no
    warmth is waited for.
    """
    opened = window
    if last_opening is not None:
        opened = _opened(window, crop, start, cover, climate, risk, min(last_opening, window.latest))
    if start.way == "set out":
        return (_with_notes(opened, crop, climate),)
    return tuple(_with_notes(part, crop, climate) for part in _germinating(opened, crop, cover, climate))


def _opened(
    window: Window, crop: Crop, start: Start, cover: Cover, climate: Climate, risk: Risk, last_opening: date
) -> Window:
    """Return the window opened no sooner than its warmth allows, at ``last_opening`` in any case."""
    waits = [(gate, gate.first_day(window)) for gate in _gates(crop, start, cover, climate, risk)]
    if not waits:
        return window
    gate, warm = max(waits, key=lambda wait: wait[1] or date.max)
    known = [_reached(other, day, cover) for other, day in waits if day is not None and day > window.earliest]
    if warm is not None and warm <= last_opening:
        if warm <= window.earliest:
            return window
        return replace(window, earliest=warm, opens=(*known, *window.opens))
    reached = "never" if warm is None else f"only from {say_short(warm)}"
    sentence = (
        f"{say_short(last_opening)} is the latest opening that bulletins give, though {gate.what} "
        f"{say_degrees(gate.least)} {reached}: expect a slow start"
    )
    late = Reason("bulletins' last date", sentence, last_opening, gate.least, start.earliest.source)
    return replace(
        window,
        earliest=max(window.earliest, last_opening),
        opens=(late, *known, *window.opens),
        notes=(*window.notes, late),
    )


def _gates(crop: Crop, start: Start, cover: Cover, climate: Climate, risk: Risk) -> Iterator[_Gate]:
    if start.way == "sown in place":
        found = crop.germination_least
        # The cautious wait for the temperature advised for sowing, not for the least at which any seed germinates.
        if risk == "cautious" and crop.sowing_soil is not None:
            found = max((f for f in (found, crop.sowing_soil) if f is not None), key=lambda figure: figure.least)
        if found is not None:
            yield _Gate("soil", "the soil at 10 cm reaches", soil(climate, cover), found.least, found)
        return
    if crop.least_night is not None:
        yield _Gate(
            "nights", "mean nights stay above", nights(climate, cover), crop.least_night.least, crop.least_night
        )
    if crop.bolting_below is not None:
        chill = crop.bolting_below
        yield _Gate("chill", "the day's mean stays above", air(climate, cover), chill.usual, chill)


def _reached(gate: _Gate, day: date, cover: Cover) -> Reason:
    under = "" if cover.name == "open ground" else f" in the {cover.name}"
    why = {"soil": "to germinate", "nights": "to be set out", "chill": "so that young plants do not bolt"}[gate.kind]
    sentence = f"{gate.what} {say_degrees(gate.least)} from {say_short(day)}{under}, {why}"
    return Reason(gate.kind, sentence, day, gate.least, gate.figure.source)


def _germinating(window: Window, crop: Crop, cover: Cover, climate: Climate) -> Iterator[Window]:
    """Yield the parts of the window in which seed can germinate, allowing for the estimate's error on the cold side."""
    under, bare = soil(climate, cover), soil(climate)
    cold = None if crop.germination_least is None else crop.germination_least.least - SOIL_DOUBT_C
    hot = None if crop.germination_most is None else crop.germination_most.most
    part: list[date] = []
    for day in _days(window.earliest, window.latest + _DAY):
        inside = (
            day <= window.latest and (cold is None or under.on(day) >= cold) and (hot is None or bare.on(day) <= hot)
        )
        if inside:
            part.append(day)
        elif part:
            yield _part(window, part[0], part[-1], crop, hot, bare)
            part = []


def _part(window: Window, first: date, last: date, crop: Crop, hot: float | None, bare: Curve) -> Window:
    """Return a part of a window with the reasons for ends that are not the window's own."""
    opens, closes = window.opens, window.closes
    if first > window.earliest:
        opens = (_soil_end(crop, first, hot, bare.on(first - _DAY), opening=True), *opens)
    if last < window.latest:
        closes = (_soil_end(crop, last, hot, bare.on(last + _DAY), opening=False), *closes)
    return replace(window, earliest=first, latest=last, opens=opens, closes=closes)


def _soil_end(crop: Crop, day: date, hot: float | None, beyond: float, *, opening: bool) -> Reason:
    if hot is not None and beyond > hot and crop.germination_most is not None:
        when = f"until {say_short(day)}" if opening else f"after {say_short(day)}"
        sentence = f"the soil at 10 cm is warmer than {say_degrees(hot)} {when}, too hot to germinate"
        return Reason("heat", sentence, day, hot, crop.germination_most.source)
    assert crop.germination_least is not None  # else no day is too cold
    least = crop.germination_least.least
    when = f"before {say_short(day)}" if opening else f"after {say_short(day)}"
    sentence = (
        f"the soil at 10 cm is more than {SOIL_DOUBT_C:g} degC (the estimate's error) short of {say_degrees(least)} "
        f"{when}, too cold to germinate"
    )
    return Reason("soil", sentence, day, least, crop.germination_least.source)


def _with_notes(window: Window, crop: Crop, climate: Climate) -> Window:
    """Return the window with a note on days in it that are hotter than the crop grows well in."""
    if crop.growth_most is None:
        return window
    warmth, most = air(climate), crop.growth_most.usual
    hot = [day for day in _days(window.earliest, window.latest) if warmth.on(day) > most]
    if not hot:
        return window
    sentence = (
        f"the day's mean is above {say_degrees(most)} from {say_short(hot[0])} to {say_short(hot[-1])}: "
        "expect bolting or poor quality from starts then"
    )
    note = Reason("heat", sentence, hot[0], most, crop.growth_most.source)
    return replace(window, notes=(*window.notes, note))


def _days(first: date, last: date) -> Iterator[date]:
    day = first
    while day <= last:
        yield day
        day += _DAY
