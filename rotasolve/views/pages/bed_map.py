"""The map of one bed in one garden year: strips from the pole side down, half months from left to right."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import MONTHS, PERIODS_PER_YEAR, period_of, year_end, year_start
from rotasolve.domain.strips import parts_of, strip_depth_cm, strips_per_part
from rotasolve.views.words.layout import columns_of, cut, heading, pad, wrap
from rotasolve.views.words.wording import clean, say_count, say_date, say_length, say_span

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.bed import Bed
    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario
    from rotasolve.views.words.look import Look

_LABEL = 6
_WIDEST_CELL = 6


@dataclass(frozen=True)
class _InStrip:
    """A crop's stay in a strip; ``left`` True if it is left from before the plan and its first day made up."""

    crop: str
    first: date
    last: date
    left: bool = False


@dataclass(frozen=True)
class _Signs:
    """The signs of a bar: where it begins and ends, where it goes on, its filling, and free ground."""

    begins: str
    ends: str
    from_before: str
    goes_on: str
    filling: str
    free: str


_ASCII = _Signs("[", "]", "<", ">", "-", ".")
_DRAWN = _Signs("├", "┤", "◄", "►", "─", "·")


def bed_map(scenario: Scenario, plan: Plan, bed: Bed, year: int, look: Look) -> list[str]:
    """Return the lines of a bed's map in a garden year."""
    south = scenario.site.south
    start, end = year_start(year, south), year_end(year, south)
    lines = [*heading(clean(bed.name), look), *wrap(_say_bed(bed, look), look.width, "  ")]
    total = strips_per_part(bed)
    for part in range(parts_of(bed)):
        if parts_of(bed) > 1:
            lines += wrap(f"part {part + 1} of {parts_of(bed)}, counted from the west", look.width, "  ")
        numbers = range(part * total + 1, (part + 1) * total + 1)
        stays = [[stay for stay in _stays(scenario, plan, bed, n) if _within(stay, start, end)] for n in numbers]
        if not any(stays):
            lines.append("  free all the year")
        elif look.narrow:
            for number, here in zip(numbers, stays, strict=True):
                lines += _strip_in_words(number, here, year, south, look)
        else:
            lines += _drawing(numbers, stays, start, south, look)
    return lines


def legend(look: Look, south: bool) -> list[str]:
    """Return how a map is read."""
    pole = "south" if south else "north"
    if look.narrow:
        return wrap(f"How to read the beds: strip 1 lies on the {pole} side.", look.width)
    signs = _ASCII if look.plain else _DRAWN
    text = (
        f"How to read the maps: each line is a strip of the bed, the first one on the {pole} side; time runs "
        f"from left to right, {_cell_width(look)} columns for half a month. "
        f"{signs.begins}kale{signs.filling}{signs.ends} is the time kale takes the ground, {signs.free} free ground; "
        f"a bar with {signs.from_before} began in an earlier year, one with {signs.goes_on} goes on into the next."
    )
    return wrap(text, look.text_width)


def _say_bed(bed: Bed, look: Look) -> str:
    parts = parts_of(bed)
    strips = f"{say_count(strips_per_part(bed), 'strip')} of {say_length(strip_depth_cm(bed), look)}"
    return (
        f"{say_length(bed.length, look)} x {say_length(bed.width, look)}, long side {bed.runs}, {bed.cover}, {strips}"
        + (f" in each of {parts} parts" if parts > 1 else "")
    )


def _stays(scenario: Scenario, plan: Plan, bed: Bed, strip: int) -> Iterator[_InStrip]:
    for past in scenario.history:
        if past.bed == bed.name and past.until is not None and past.takes(strip):
            # Whatever stands when the plan begins was started before it, on a day nobody wrote down.
            yield _InStrip(
                past.crop, year_start(scenario.first_year, scenario.site.south) - timedelta(1), past.until, left=True
            )
    for planting in sorted(plan.plantings, key=lambda p: (p.start, p.clear, p.crop)):
        if planting.bed == bed.name and strip in planting.strips:
            yield _InStrip(planting.crop, planting.start, planting.clear)


def _within(stay: _InStrip, start: date, end: date) -> bool:
    return stay.first <= end and stay.last >= start


def _cell_width(look: Look) -> int:
    return max(2, min(_WIDEST_CELL, (look.width - _LABEL) // PERIODS_PER_YEAR))


def _drawing(
    numbers: Sequence[int], stays: Sequence[Sequence[_InStrip]], start: date, south: bool, look: Look
) -> Iterator[str]:
    cell, signs = _cell_width(look), _ASCII if look.plain else _DRAWN
    months = [MONTHS[(start.month - 1 + step) % 12] for step in range(12)]
    yield ("strip " + "".join(pad(cut(month, 3), 2 * cell) for month in months)).rstrip()
    pole, other = ("S", "N") if south else ("N", "S")
    for place, (number, here) in enumerate(zip(numbers, stays, strict=True)):
        # The first and the last strip say which side of the bed they lie at.
        side = pole if place == 0 else other if place == len(numbers) - 1 else " "
        yield f"{side}{number:>4} " + _bars(here, period_of(start), cell, signs)


def _bars(stays: Sequence[_InStrip], first_period: int, cell: int, signs: _Signs) -> str:
    line, ends = "", 0
    for nth, stay in enumerate(stays):
        begin = max(period_of(stay.first) - first_period, 0)
        end = min(period_of(stay.last) - first_period + 1, PERIODS_PER_YEAR)
        if nth + 1 < len(stays):
            # Two crops meet in one half month only in a plan the referee refuses: the later one is drawn whole.
            end = min(end, max(period_of(stays[nth + 1].first) - first_period, 0))
        begin = max(begin, ends)
        if end <= begin:
            continue
        line += signs.free * (cell * (begin - ends))
        left = signs.from_before if period_of(stay.first) < first_period else signs.begins
        goes_on = period_of(stay.last) >= first_period + PERIODS_PER_YEAR
        line += _bar(stay.crop, cell * (end - begin), left, signs.goes_on if goes_on else signs.ends, signs.filling)
        ends = end
    return line + signs.free * (cell * (PERIODS_PER_YEAR - ends))


def _bar(crop: str, width: int, left: str, right: str, filling: str) -> str:
    name = cut(clean(crop), width - 2)
    return left + name + filling * (width - 2 - columns_of(name)) + right


def _strip_in_words(number: int, stays: Sequence[_InStrip], year: int, south: bool, look: Look) -> list[str]:
    if not stays:
        return wrap(f"strip {number}: free", look.width, "  ", "    ")
    said = "; ".join(
        f"{stay.crop}, until {say_date(stay.last, year, south)}"
        if stay.left
        else f"{stay.crop}, {say_span(stay.first, stay.last, year, south, look)}"
        for stay in stays
    )
    return wrap(f"strip {number}: {said}", look.width, "  ", "    ")
