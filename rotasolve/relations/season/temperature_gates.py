"""A window from frost dates narrowed by the temperatures of the site: soil, nights, chill and heat.

Bulletins count a window's first day in weeks from the last frost and give a range of weeks. Within that range the
site's own temperatures decide: the window opens when the soil at 10 cm is warm enough to germinate (seed), the mean
night warm enough to set out; at the bulletins' latest opening it opens anyway, with a note of what is lacking. A chill
that makes young plants bolt is noted and not waited for: small plants stand it, and calendars do not wait for it. So
mild springs by the sea open long before the last frost, and those inland, short and late, close to it. Single days are
closed whatever the bulletins say where the soil is so cold that seed cannot germinate even if the estimate is off by
its published error, where the soil is too hot to germinate, and where nights are too cold for tender plants to stand
out. Heat is judged in the open, because a cover is taken off or vented in hot weather.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from rotasolve.relations.season.reasons import (
    HotDays,
    Kind,
    LatestOpening,
    NeverRight,
    OpensCold,
    ShutBeyond,
    ShutThroughout,
    Side,
    WarmFrom,
    WarmTooLate,
    WindowReason,
    weeks_from,
)
from rotasolve.relations.season.site_climate import SOIL_DOUBT_C, air, nights, soil

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rotasolve.domain.catalogue import Cover
    from rotasolve.domain.climate import Climate
    from rotasolve.domain.crop import Crop, Start
    from rotasolve.domain.site import Risk
    from rotasolve.relations.season.daily_curves import Curve
    from rotasolve.relations.season.frosts import Turns
    from rotasolve.relations.season.windows import Window

STAND_OUT_NIGHT_C = 10.0
"""Tender plants are not set out into mean nights below this, or below their own figure where that is lower: 50 F is
what the University of Maryland (S84, 2023) asks before cucumbers and melons stay out at night; taken over for crops
whose published figure is higher, as that figure (S23, California) would shut them out of cool summers altogether."""
UNDER_COVER_NIGHT_C = 7.2
"""The same under a cover, which keeps off wind and the open sky: 45 F, below which Maryland (S84) puts no plant out to
harden. So peppers go into an unheated tunnel in England in mid May, as growers there do (from memory)."""
STAND_OUT_SOURCE = ("S84",)

SPRING_SOIL_C = 5.0
"""Soil in which grass and weeds begin to grow, the usual mark of spring: before it no window opens early. Common
practice, no source."""

_DAY = timedelta(days=1)


@dataclass(frozen=True)
class Gate:
    """A temperature in degrees C to wait for (``wanted``), and one below which no day is open (``floor``)."""

    kind: Kind
    curve: Curve
    wanted: float
    floor: float | None
    sources: tuple[str, ...]

    def first_warm_day(self, window: Window) -> date:
        """Return the first day of the window that has the wanted warmth, ``date.max`` if none has."""
        days = (day for day in _days(window.earliest, window.latest) if self.curve.on(day) >= self.wanted)
        return next(days, date.max)

    @property
    def floor_sources(self) -> tuple[str, ...]:
        """The sources of the floor."""
        return self.sources if self.kind == "soil" or self.floor == self.wanted else STAND_OUT_SOURCE

    def lets(self, day: date, usual: date) -> bool:
        """Return whether a day has the wanted warmth; before the ``usual`` opening the soil of spring's beginning."""
        early = self.kind == "soil" and day < usual
        return self.curve.on(day) >= (max(self.wanted, SPRING_SOIL_C) if early else self.wanted)

    def shuts(self, day: date) -> bool:
        """Return whether a day is too cold to be open at all."""
        return self.floor is not None and self.curve.on(day) < self.floor


def gates_of(crop: Crop, start: Start, cover: Cover, climate: Climate, risk: Risk) -> tuple[Gate, ...]:
    """Return the temperatures that a way of starting a crop waits for under a cover."""
    found = []
    if start.way == "sown in place":
        least, wanted = crop.germination_least, crop.germination_least
        # The cautious wait for the temperature advised for sowing, not for the least at which any seed germinates.
        if risk == "cautious" and crop.sowing_soil is not None:
            wanted = max((f for f in (least, crop.sowing_soil) if f is not None), key=lambda figure: figure.least)
        if wanted is not None:
            floor = None if least is None else least.least - SOIL_DOUBT_C
            found.append(Gate("soil", soil(climate, cover), wanted.least, floor, wanted.source))
        return tuple(found)
    if crop.least_night is not None:
        least_c = crop.least_night.least
        floor = min(least_c, UNDER_COVER_NIGHT_C if cover.night_gain_c else STAND_OUT_NIGHT_C)
        found.append(Gate("nights", nights(climate, cover), least_c, floor, crop.least_night.source))
    if crop.bolting_below is not None:
        chill = crop.bolting_below
        found.append(Gate("chill", air(climate, cover), chill.usual, None, chill.source))
    return tuple(found)


@dataclass(frozen=True)
class Opening:
    """The first and the last opening of a spring window that any bulletin gives, and how the first one is counted."""

    first: date
    last: date
    reason: WindowReason

    def warm_enough(self, gates: Iterable[Gate], usual: date) -> date:
        """Return the day on which the warmth of the site opens the window, by the last opening at the latest."""
        waited, until = _waited(gates), max(usual, self.last)
        days = _days(min(self.first, usual), until)
        return next((day for day in days if all(gate.lets(day, usual) for gate in waited)), until)


def opening_of(crop: Crop, start: Start, cover: Cover, turns: Turns) -> Opening:
    """Return the openings of a start that is counted from the last frost.

    What the first frost kills waits for the usual opening; what is very tender waits for a safe date anyway.
    """
    figure, sooner = start.earliest, timedelta(days=cover.days_earlier)
    least = figure.usual if crop.hardiness.level == "tender" else figure.least
    first, last = (turns.day(figure, weeks) - sooner for weeks in (least, figure.most))
    return Opening(first, last, weeks_from(figure, least, turns))


def _waited(gates: Iterable[Gate]) -> list[Gate]:
    return [gate for gate in gates if gate.kind != "chill"]


def narrowed(
    window: Window, crop: Crop, start: Start, cover: Cover, climate: Climate, risk: Risk, opening: Opening | None
) -> tuple[Window, ...]:
    """Return what the site's temperatures leave of a window: none, one or, around a hot summer, two.

    ``opening`` is None for windows that open in autumn, which no warmth is waited for.
    """
    gates = gates_of(crop, start, cover, climate, risk)
    first, usual = window.earliest, window.earliest
    if opening is not None and _waited(gates):
        if opening.first < usual:
            window = replace(window, earliest=opening.first, opens=(opening.reason, *window.opens[1:]))
        first = opening.warm_enough(gates, usual)
    hot = crop.germination_most if start.way == "sown in place" else None
    bare = soil(climate)
    parts: list[list[date]] = [[]]
    for day in _days(first, window.latest):
        if any(gate.shuts(day) for gate in gates) or (hot is not None and bare.on(day) > hot.most):
            parts.append([])
        else:
            parts[-1].append(day)
    return tuple(
        _explained(window, part[0], part[-1], crop, start, cover, climate, gates, spring=opening is not None)
        for part in parts
        if part
    )


def _explained(
    window: Window,
    first: date,
    last: date,
    crop: Crop,
    start: Start,
    cover: Cover,
    climate: Climate,
    gates: tuple[Gate, ...],
    *,
    spring: bool,
) -> Window:
    """Return a part of a window with the reasons for those of its ends that are not the window's own."""
    opens, closes, notes = window.opens, window.closes, list(window.notes)
    if first > window.earliest:
        opens = (_why_open(first, crop, start, cover, climate, gates), *opens)
    if last < window.latest:
        closes = (_why_shut("after", last, crop, cover, gates), *closes)
    if spring:
        notes += [_lack(gate, window, first, cover) for gate in gates if gate.curve.on(first) < gate.wanted]
    notes += _heat_notes(first, last, crop, climate)
    return replace(window, earliest=first, latest=last, opens=opens, closes=closes, notes=tuple(notes))


def _why_open(
    day: date, crop: Crop, start: Start, cover: Cover, climate: Climate, gates: tuple[Gate, ...]
) -> WindowReason:
    before = day - _DAY
    for gate in gates:
        if gate.curve.on(before) < gate.wanted <= gate.curve.on(day):
            return WarmFrom(kind=gate.kind, cover=cover.name, day=day, degrees_c=gate.wanted, sources=gate.sources)
    hot = start.way == "sown in place" and _too_hot(crop, climate, before)
    if hot or any(gate.shuts(before) for gate in gates):
        return _why_shut("before", day, crop, cover, gates)
    return LatestOpening(cover=cover.name, days_earlier=cover.days_earlier, day=day, sources=start.earliest.source)


def _too_hot(crop: Crop, climate: Climate, day: date) -> bool:
    return crop.germination_most is not None and soil(climate).on(day) > crop.germination_most.most


def _why_shut(side: Side, end: date, crop: Crop, cover: Cover, gates: tuple[Gate, ...]) -> ShutBeyond:
    """Return why the day beyond an end is shut."""
    beyond = end + (_DAY if side == "after" else -_DAY)
    for gate in gates:
        if gate.shuts(beyond):
            return ShutBeyond(
                kind=gate.kind, side=side, cover=cover.name, day=end, degrees_c=gate.floor, sources=gate.floor_sources
            )
    assert crop.germination_most is not None  # else no day is too hot
    hot = crop.germination_most
    return ShutBeyond(kind="heat", side=side, cover=cover.name, day=end, degrees_c=hot.most, sources=hot.source)


def why_never(window: Window, crop: Crop, start: Start, cover: Cover, climate: Climate, risk: Risk) -> WindowReason:
    """Return why the site's temperatures leave nothing of a window."""
    for gate in gates_of(crop, start, cover, climate, risk):
        if all(gate.shuts(day) for day in _days(window.earliest, window.latest)):
            return ShutThroughout(
                kind=gate.kind,
                first=window.earliest,
                last=window.latest,
                cover=cover.name,
                degrees_c=gate.floor,
                sources=gate.floor_sources,
            )
    for gate in gates_of(crop, start, cover, climate, risk):
        if gate.first_warm_day(window) > window.latest:
            return WarmTooLate(
                kind=gate.kind, last=window.latest, cover=cover.name, degrees_c=gate.wanted, sources=gate.sources
            )
    return NeverRight(sources=() if crop.germination_most is None else crop.germination_most.source)


def _lack(gate: Gate, window: Window, first: date, cover: Cover) -> WindowReason:
    """Return the note that a window opens before the wanted warmth is there."""
    warm = gate.first_warm_day(replace(window, earliest=first))
    return OpensCold(
        kind=gate.kind,
        cover=cover.name,
        day=warm if warm < date.max else None,
        degrees_c=gate.wanted,
        sources=gate.sources,
    )


def _heat_notes(first: date, last: date, crop: Crop, climate: Climate) -> Iterator[WindowReason]:
    """Yield a note on days of a window that are hotter than the crop grows well in."""
    if crop.growth_most is None:
        return
    warmth, most = air(climate), crop.growth_most.usual
    hot = [day for day in _days(first, last) if warmth.on(day) > most]
    if hot:
        yield HotDays(day=hot[0], last=hot[-1], degrees_c=most, sources=crop.growth_most.source)


def _days(first: date, last: date) -> Iterator[date]:
    day = first
    while day <= last:
        yield day
        day += _DAY
