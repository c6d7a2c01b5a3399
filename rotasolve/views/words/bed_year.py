"""What stands in a bed in a garden year, and the words a drawing says of it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import year_end, year_start
from rotasolve.domain.strips import parts_of, say_strips, strips_in_bed
from rotasolve.relations.ground.blocks import SPACING_TOLERANCE
from rotasolve.relations.ground.lie_of_beds import part_and_row
from rotasolve.relations.ground.plant_places import plant_rows, row_distance_cm
from rotasolve.views.words.look import Look
from rotasolve.views.words.wording import clean, say_count, say_date, say_length, say_number, say_span

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import date

    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Garden


@dataclass(frozen=True)
class Stay:
    """A crop in some strips; ``planting`` is None for what is left from before the plan, its first day made up."""

    crop: str
    strips: tuple[int, ...]
    first: date
    last: date
    planting: Planting | None


def stays_in(garden: Garden, plan: Plan, bed: str, year: int) -> tuple[Stay, ...]:
    """Return all that stands in a bed in a garden year, by first day, then from the pole side.

    Strips that the bed has not got, as a plan changed by hand may name, are left out.
    """
    scenario = garden.scenario
    start, end = year_start(year, scenario.site.south), year_end(year, scenario.site.south)
    before = year_start(scenario.first_year, scenario.site.south) - timedelta(days=1)
    every = tuple(range(1, strips_in_bed(garden.beds[bed]) + 1))
    found = [
        Stay(past.crop, tuple(strip for strip in every if past.takes(strip)), before, past.until, None)
        for past in scenario.history
        if past.bed == bed and past.until is not None
    ]
    found += [
        Stay(p.crop, tuple(sorted(set(p.strips) & set(every))), p.start, p.clear, p)
        for p in plan.plantings
        if p.bed == bed
    ]
    here = [stay for stay in found if stay.strips and stay.first <= end and stay.last >= start]
    return tuple(sorted(here, key=lambda stay: (stay.first, stay.strips, stay.last, stay.crop)))


def stages(stays: tuple[Stay, ...]) -> tuple[tuple[Stay, ...], ...]:
    """Return as few layers as can be in which no strip is taken twice, what comes first in the first one.

    Each stay lies in a later layer than those that held its strips before it.
    """
    found: list[list[Stay]] = []
    reached: dict[int, int] = {}
    for stay in stays:
        layer = max(reached.get(strip, 0) for strip in stay.strips)
        for strip in stay.strips:
            reached[strip] = layer + 1
        if layer == len(found):
            found.append([])
        found[layer].append(stay)
    return tuple(tuple(sorted(layer, key=lambda stay: stay.strips)) for layer in found)


@dataclass(frozen=True)
class Panel:
    """One part of a bed at one stage: its stays from the pole side, each with its number in the bed's year."""

    part: int
    stage: int
    stages: int
    stays: tuple[tuple[int, Stay], ...]


def panels_of(garden: Garden, plan: Plan, bed_name: str, year: int) -> tuple[Panel, ...]:
    """Return the panels of a bed in a garden year, part by part from the west, what comes first in the first.

    A part left free is one panel without stays. What lies in several parts is numbered in each.
    """
    bed, stays = garden.beds[bed_name], stays_in(garden, plan, bed_name, year)
    found, told = [], 0
    for part in range(1, parts_of(bed) + 1):
        here = [(stay, tuple(n for n in stay.strips if part_and_row(bed, n)[0] == part)) for stay in stays]
        layers = stages(tuple(replace(stay, strips=strips) for stay, strips in here if strips)) or ((),)
        for nth, layer in enumerate(layers, start=1):
            numbered = tuple((told + place, stay) for place, stay in enumerate(layer, start=1))
            told += len(layer)
            found.append(Panel(part, nth, len(layers), numbered))
    return tuple(found)


def say_crops(stays: Iterable[Stay]) -> str:
    """Say the crops of some stays, each once."""
    return ", ".join(dict.fromkeys(clean(stay.crop) for stay in stays)) or "free all the year"


def say_stand(garden: Garden, planting: Planting, look: Look) -> str:
    """Say plants, rows and distances as they are drawn: ``8 plants in 2 rows, 30 cm apart, 45 cm between rows``."""
    stand = stand_of(garden, planting)
    text = say_count(planting.plants, "plant")
    if stand.broadcast:
        return f"{text}, sown broadcast, here drawn in {say_count(stand.rows, 'row')}"
    text += f" in {say_count(stand.rows, 'row')}" if planting.plants > 1 else ""
    text += f", {say_length(stand.apart_cm, look)} apart" if stand.apart_cm else ""
    text += f", {say_length(stand.between_cm, look)} between rows" if stand.between_cm else ""
    return text + (f" ({say_length(stand.least_cm, look)} or more)" if stand.least_cm else "")


@dataclass(frozen=True)
class Stand:
    """How a planting is drawn: its rows, and the distances in a row and between rows in cm, 0 where there is none.

    ``least_cm`` is the least distance between rows, 0 where they stand no further apart.
    """

    rows: int
    broadcast: bool = False
    apart_cm: float = 0
    between_cm: float = 0
    least_cm: float = 0


def stand_of(garden: Garden, planting: Planting) -> Stand:
    """Return how a planting is drawn."""
    drawn, crop = plant_rows(garden, planting), garden.crops[planting.crop]
    rows = drawn[-1].row
    if crop.seed_rate is not None:
        return Stand(rows, broadcast=True)
    apart = drawn[0].gap_cm if planting.plants > rows else 0
    if planting.plants == 1 or rows == 1:
        return Stand(rows, apart_cm=apart)
    distance = row_distance_cm(planting, garden.beds[planting.bed])
    least = crop.spacing_between_rows.usual
    wide = distance > least * (1 + SPACING_TOLERANCE)
    return Stand(rows, apart_cm=apart, between_cm=distance, least_cm=least if wide else 0)


def say_days(garden: Garden, stay: Stay, year: int, look: Look) -> list[str]:
    """Say when a crop is started, picked and cleared, one sentence a line."""
    south, planting = garden.scenario.site.south, stay.planting
    if planting is None:
        return [f"left from before the plan, until {say_date(stay.last, year, south)}"]
    lines = [f"{planting.way} {say_date(planting.start, year, south)}"]
    if planting.first_harvest is not None and planting.last_harvest is not None:
        lines.append(f"picked {say_span(planting.first_harvest, planting.last_harvest, year, south, look)}")
    done = "dug in" if garden.crops[planting.crop].green_manure else "cleared"
    lines.append(f"{done} {say_date(planting.clear, year, south)}")
    return lines


def say_panels(garden: Garden, panels: tuple[Panel, ...], year: int, look: Look) -> list[tuple[str, str]]:
    """Say all that stands in a bed: the number and a sentence for each stay, and without a number what is left free."""
    every: list[tuple[list[int], Stay]] = []
    for told, stay in (each for panel in panels for each in panel.stays):
        for numbers, known in every:
            if stay.planting is not None and known.planting is stay.planting:
                numbers.append(told)
                break
        else:
            every.append(([told], stay))
    found = []
    for numbers, stay in every:
        strips = stay.strips if stay.planting is None else stay.planting.strips
        said = f"{stay.crop}, {say_strips(strips, look.dash)}: "
        said += f"{say_stand(garden, stay.planting, look)}; " if stay.planting is not None else ""
        found.append((", ".join(map(str, numbers)), said + ", ".join(say_days(garden, stay, year, look))))
    free = [f"part {panel.part}" for panel in panels if not panel.stays]
    if free:
        found.append(("", f"Free all the year: {', '.join(free)}" if panels[-1].part > 1 else "Free all the year"))
    return found


def say_bed(garden: Garden, bed: str, look: Look) -> str:
    """Say a bed's size from west to east and from north to south, how it is turned, and what lies over it."""
    record = garden.beds[bed]
    wide, deep = say_length(record.breadth_cm, look), say_length(record.depth_cm, look)
    turned = f", turned {say_number(abs(record.bearing))} degrees {'' if record.bearing > 0 else 'anti'}clockwise"
    return f"{wide} from west to east, {deep} from north to south{turned if record.bearing else ''}, {record.cover}"


def say_missing(garden: Garden, plan: Plan, bed: str, look: Look) -> str:
    """Say which plantings of a bed have no strip in it, so that nothing is left out in silence; empty if all have."""
    every = set(range(1, strips_in_bed(garden.beds[bed]) + 1))
    lost = [p for p in plan.plantings if p.bed == bed and not every & set(p.strips)]
    said = ", ".join(f"{p.crop} ({say_strips(p.strips, look.dash)})" for p in lost)
    return f"Not drawn, for the bed has no such strips: {said}." if said else ""


def row_runs(rows: list[int]) -> list[tuple[int, int]]:
    """Return the (first, length) of each run of neighbouring rows."""
    found: list[tuple[int, int]] = []
    for row in rows:
        if found and sum(found[-1]) == row:
            found[-1] = (found[-1][0], found[-1][1] + 1)
        else:
            found.append((row, 1))
    return found
