"""A window from frost dates narrowed by the temperatures of the site: soil, nights, chill and heat.

Bulletins count a window's first day in weeks from the last frost and give a range of weeks. Within that range the
site's own temperatures decide: the window opens when the soil at 10 cm is warm enough to germinate (seed), the mean
night warm enough to set out, and the day's mean past the chill that makes young plants bolt; at the bulletins' latest
opening it opens anyway, with a note of what is lacking. Single days are closed whatever the bulletins say where the
soil is so cold that seed cannot germinate even if the estimate is off by its published error, where the soil is too
hot to germinate, and where nights are too cold for tender plants to stand out. Heat is judged in the open, because a
cover is taken off or vented in hot weather.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from rotasolve.relations.season.reasons import Kind, WindowReason, say_degrees, say_short
from rotasolve.relations.season.site_climate import SOIL_DOUBT_C, air, nights, soil

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rotasolve.domain.catalogue import Cover
    from rotasolve.domain.climate import Climate
    from rotasolve.domain.crop import Crop, Start
    from rotasolve.domain.site import Risk
    from rotasolve.relations.season.daily_curves import Curve
    from rotasolve.relations.season.windows import Window

STAND_OUT_NIGHT_C = 10.0
"""Tender plants are not set out into mean nights below this, or below their own figure where that is lower: 50 F is
what the University of Maryland (S84, 2023) asks before cucumbers and melons stay out at night; taken over for crops
whose published figure is higher, as that figure (S23, California) would shut them out of cool summers altogether."""
STAND_OUT_SOURCE = ("S84",)

_DAY = timedelta(days=1)


@dataclass(frozen=True)
class Gate:
    """A temperature in degrees C to wait for (``wanted``), and one below which no day is open (``floor``)."""

    kind: Kind
    what: str
    short_of_it: str
    curve: Curve
    wanted: float
    floor: float | None
    sources: tuple[str, ...]

    def first_warm_day(self, window: Window) -> date:
        """Return the first day of the window that has the wanted warmth, ``date.max`` if none has."""
        days = (day for day in _days(window.earliest, window.latest) if self.curve.on(day) >= self.wanted)
        return next(days, date.max)

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
            what, lack = "the soil at 10 cm reaches", "seed comes up slowly and may rot"
            found.append(Gate("soil", what, lack, soil(climate, cover), wanted.least, floor, wanted.source))
        return tuple(found)
    if crop.least_night is not None:
        least_c = crop.least_night.least
        what, lack = "mean nights stay above", "expect slow growth, or choose a warmer cover"
        floor = min(least_c, STAND_OUT_NIGHT_C)
        found.append(Gate("nights", what, lack, nights(climate, cover), least_c, floor, crop.least_night.source))
    if crop.bolting_below is not None:
        what, lack = "the day's mean stays above", "young plants may bolt, so set out small ones"
        chill = crop.bolting_below
        found.append(Gate("chill", what, lack, air(climate, cover), chill.usual, None, chill.source))
    return tuple(found)


def narrowed(
    window: Window, crop: Crop, start: Start, cover: Cover, climate: Climate, risk: Risk, last_opening: date | None
) -> tuple[Window, ...]:
    """Return what the site's temperatures leave of a window: none, one or, around a hot summer, two.

    ``last_opening`` is the latest first day that any bulletin gives; None for windows that open in autumn, which no
    warmth is waited for.
    """
    gates = gates_of(crop, start, cover, climate, risk)
    first = window.earliest
    if last_opening is not None and gates:
        warm = max(gate.first_warm_day(window) for gate in gates)
        first = max(first, min(warm, last_opening))
    hot = crop.germination_most if start.way == "sown in place" else None
    bare = soil(climate)
    parts: list[list[date]] = [[]]
    for day in _days(first, window.latest):
        if any(gate.shuts(day) for gate in gates) or (hot is not None and bare.on(day) > hot.most):
            parts.append([])
        else:
            parts[-1].append(day)
    return tuple(
        _explained(window, part[0], part[-1], crop, start, cover, climate, gates, spring=last_opening is not None)
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
        closes = (_why_shut(last, last + _DAY, crop, cover, climate, gates, opening=False), *closes)
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
            sentence = f"{gate.what} {say_degrees(gate.wanted)} from {say_short(day)}{_under(cover)}"
            return WindowReason(gate.kind, sentence, day, gate.wanted, gate.sources)
    hot = start.way == "sown in place" and _too_hot(crop, climate, before)
    if hot or any(gate.shuts(before) for gate in gates):
        return _why_shut(day, before, crop, cover, climate, gates, opening=True)
    sentence = f"{say_short(day)} is the latest opening that bulletins give{_earlier(cover)}"
    return WindowReason("bulletins' latest opening", sentence, day, sources=start.earliest.source)


def _under(cover: Cover) -> str:
    return "" if cover.name == "open ground" else f" in the {cover.name}"


def _earlier(cover: Cover) -> str:
    return f", {cover.days_earlier} days earlier{_under(cover)}" if cover.days_earlier else ""


def _too_hot(crop: Crop, climate: Climate, day: date) -> bool:
    return crop.germination_most is not None and soil(climate).on(day) > crop.germination_most.most


def _why_shut(
    end: date, beyond: date, crop: Crop, cover: Cover, climate: Climate, gates: tuple[Gate, ...], *, opening: bool
) -> WindowReason:
    """Return why the day ``beyond`` an end is shut."""
    when = f"before {say_short(end)}" if opening else f"after {say_short(end)}"
    for gate in gates:
        if gate.shuts(beyond):
            return _cold(gate, when + _under(cover), end)
    assert crop.germination_most is not None  # else no day is too hot
    most = crop.germination_most.most
    sentence = f"the soil at 10 cm is warmer than {say_degrees(most)} {when}, too hot to germinate"
    return WindowReason("heat", sentence, end, most, crop.germination_most.source)


def _cold(gate: Gate, when: str, day: date | None) -> WindowReason:
    assert gate.floor is not None  # else it shuts no day
    if gate.kind == "soil":
        sentence = (
            f"the soil at 10 cm is below {say_degrees(gate.floor)} {when}: too cold to germinate even if the estimate "
            f"is {say_degrees(SOIL_DOUBT_C)} too low"
        )
    else:
        sentence = f"mean nights are below {say_degrees(gate.floor)} {when}: too cold to be set out"
    own = gate.kind == "soil" or gate.floor == gate.wanted
    return WindowReason(gate.kind, sentence, day, gate.floor, gate.sources if own else STAND_OUT_SOURCE)


def why_never(window: Window, crop: Crop, start: Start, cover: Cover, climate: Climate, risk: Risk) -> WindowReason:
    """Return why the site's temperatures leave nothing of a window."""
    for gate in gates_of(crop, start, cover, climate, risk):
        if all(gate.shuts(day) for day in _days(window.earliest, window.latest)):
            when = f"from {say_short(window.earliest)} to {say_short(window.latest)}"
            return _cold(gate, when + _under(cover), None)
    for gate in gates_of(crop, start, cover, climate, risk):
        if gate.first_warm_day(window) > window.latest:
            late = f"{gate.what} {say_degrees(gate.wanted)} only after {say_short(window.latest)}{_under(cover)}"
            return WindowReason(gate.kind, f"{late}, the last day that still pays", None, gate.wanted, gate.sources)
    sentence = "in its season the soil at 10 cm is always too cold or too hot to germinate"
    return WindowReason(
        "soil", sentence, None, sources=() if crop.germination_most is None else crop.germination_most.source
    )


def _lack(gate: Gate, window: Window, first: date, cover: Cover) -> WindowReason:
    """Return the note that a window opens before the wanted warmth is there."""
    warm = gate.first_warm_day(replace(window, earliest=first))
    where = _under(cover)
    when = f"only from {say_short(warm)}{where}" if warm < date.max else f"on no day of this window{where}"
    sentence = f"{gate.what} {say_degrees(gate.wanted)} {when}: {gate.short_of_it}"
    return WindowReason(gate.kind, sentence, warm if warm < date.max else None, gate.wanted, gate.sources)


def _heat_notes(first: date, last: date, crop: Crop, climate: Climate) -> Iterator[WindowReason]:
    """Yield a note on days of a window that are hotter than the crop grows well in."""
    if crop.growth_most is None:
        return
    warmth, most = air(climate), crop.growth_most.usual
    hot = [day for day in _days(first, last) if warmth.on(day) > most]
    if hot:
        sentence = (
            f"the day's mean is above {say_degrees(most)} from {say_short(hot[0])} to {say_short(hot[-1])}: "
            "expect bolting or poor quality from starts then"
        )
        yield WindowReason("heat", sentence, hot[0], most, crop.growth_most.source)


def _days(first: date, last: date) -> Iterator[date]:
    day = first
    while day <= last:
        yield day
        day += _DAY
