"""What a plan asks to be bought or kept ready in each garden year, counted from its plantings."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Literal

from rotasolve.domain.seasons import garden_year
from rotasolve.domain.strips import part_breadth_cm, strip_depth_cm
from rotasolve.relations.ground.lie_of_beds import rectangle_of
from rotasolve.relations.ground.standing import goes_in
from rotasolve.relations.work.seedlings import pot_litres, pot_times_of, pots_on, trays_for
from rotasolve.relations.work.seeds import need_of

if TYPE_CHECKING:
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.relations.ground.garden import Garden

Ware = Literal["seed", "set", "clove", "tuber", "slip", "plant", "pot", "tray", "compost", "support", "cover", "mesh"]

EDGE_CM = 40.0
"""How far fleece, film and mesh reach over the ground on every side, for hoops and to be weighed down: common practice,
no source."""


@dataclass(frozen=True)
class Purchase:
    """So much of one thing; ``unit`` says what ``amount`` counts.

    ``grams`` is the weight of seeds where it is known, ``pot_cm`` the width of pots and cells. Seeds and plants are
    used up; pots, supports, fleece and mesh are the most in use on one day of the year.
    """

    ware: Ware
    what: str
    amount: float
    unit: Literal["seeds", "pieces", "g", "litres", "m", "m2"]
    grams: float | None = None
    pot_cm: float | None = None


def purchases_of(garden: Garden, plan: Plan) -> dict[int, tuple[Purchase, ...]]:
    """Return the purchases of every garden year in which anything is begun, in order.

    A planting belongs to the year in which it is first sown, indoors or in its bed; nothing is bought for what was
    started before the plan.
    """
    south = garden.scenario.site.south
    by_year: dict[int, list[Planting]] = {}
    for planting in plan.plantings:
        if planting.start < garden.scenario.begins or not goes_in(
            garden.scenario, garden.crops[planting.crop], planting
        ):
            continue
        by_year.setdefault(garden_year(planting.raise_from or planting.start, south), []).append(planting)
    return {
        year: (
            *_seeds(garden, plantings),
            *_pieces(garden, plantings),
            *_potting(garden, plantings),
            *_supports(garden, [p for p in plan.plantings if _stands_in(p, year, south)]),
            *_sheets(garden, [p for p in plan.plantings if _stands_in(p, year, south)]),
        )
        for year, plantings in sorted(by_year.items())
    }


def _stands_in(planting: Planting, year: int, south: bool) -> bool:
    return planting.begins_in(south) <= year <= planting.ends_in(south)


def _seeds(garden: Garden, plantings: Iterable[Planting]) -> Iterator[Purchase]:
    pieces: Counter[str] = Counter()
    grams: dict[str, float] = {}
    for planting in plantings:
        need = need_of(garden, planting)
        if need.material != "seed" or _bought(planting):
            continue
        pieces[planting.crop] += need.pieces or 0
        if need.grams is not None:
            grams[planting.crop] = grams.get(planting.crop, 0) + need.grams
    for crop in sorted(pieces, key=str.casefold):
        if pieces[crop]:
            yield Purchase("seed", crop, pieces[crop], "seeds", grams.get(crop))
        else:
            yield Purchase("seed", crop, round(grams[crop], 1), "g", grams[crop])


def _bought(planting: Planting) -> bool:
    """Return whether a planting goes in as bought plants: set out, and nowhere raised."""
    return planting.way == "set out" and planting.raise_from is None


def _pieces(garden: Garden, plantings: Iterable[Planting]) -> Iterator[Purchase]:
    counts: Counter[tuple[Ware, str]] = Counter()
    for planting in plantings:
        material = need_of(garden, planting).material
        if material != "seed":
            counts[material, planting.crop] += planting.plants
        elif _bought(planting):
            counts["plant", planting.crop] += planting.plants
    for (ware, crop), count in sorted(counts.items()):
        yield Purchase(ware, crop, count, "pieces")


def _potting(garden: Garden, plantings: Iterable[Planting]) -> Iterator[Purchase]:
    stays = [stay for planting in plantings for stay in pot_times_of(garden, planting)]
    most: dict[float, int] = {}
    trays = 0
    for day in sorted({stay.first for stay in stays}):
        pots = pots_on(stays, day)
        trays = max(trays, trays_for(pots))
        for width, count in pots.items():
            most[width] = max(most.get(width, 0), count)
    for width, count in sorted(most.items()):
        yield Purchase("pot", "pots or cells", count, "pieces", pot_cm=width)
    if trays:
        yield Purchase("tray", "trays", trays, "pieces")
        litres = sum(stay.count * pot_litres(stay.pot_cm) for stay in stays)
        yield Purchase("compost", "seed and potting compost", max(1, math.ceil(litres)), "litres")


def _most_on_a_day(plantings: list[Planting], amount: Callable[[Planting], float]) -> float:
    """Return the most that stands on any day: amounts only rise on days on which a planting starts."""

    def on(day: date) -> float:
        return sum(amount(planting) for planting in plantings if planting.start <= day <= planting.clear)

    return max((on(planting.start) for planting in plantings), default=0)


def _supports(garden: Garden, standing: list[Planting]) -> Iterator[Purchase]:
    stakes = [p for p in standing if (s := garden.crops[p.crop].support) is not None and s.for_each == "plant"]
    rows = [p for p in standing if (s := garden.crops[p.crop].support) is not None and s.for_each == "m of row"]
    if stakes:
        yield Purchase("support", "stakes", _most_on_a_day(stakes, lambda p: p.plants), "pieces")
    if rows:
        metres = _most_on_a_day(rows, lambda p: p.plants * garden.crops[p.crop].spacing_in_row.usual / 100)
        yield Purchase("support", "trellis", math.ceil(metres), "m")


def _sheets(garden: Garden, standing: list[Planting]) -> Iterator[Purchase]:
    for cover, what in (("fleece", "fleece"), ("low tunnel", "film for low tunnels")):
        beds = sorted({p.bed for p in standing if garden.beds[p.bed].cover == cover})
        area = sum(_with_edges(garden.beds[bed].length, garden.beds[bed].width) for bed in beds)
        if area:
            yield Purchase("cover", what, round(area, 1), "m2")

    def meshed(planting: Planting) -> float:
        bed = garden.beds[planting.bed]
        deep, parts = rectangle_of(bed, planting.strips) or (len(planting.strips), 1)
        return _with_edges(deep * strip_depth_cm(bed), parts * part_breadth_cm(bed))

    # Under a cover the crop is shut off from insects already.
    open_ground = [p for p in standing if garden.crops[p.crop].mesh and garden.beds[p.bed].cover == "open ground"]
    if open_ground:
        yield Purchase("mesh", "insect mesh", round(_most_on_a_day(open_ground, meshed), 1), "m2")


def _with_edges(length_cm: float, width_cm: float) -> float:
    return (length_cm + 2 * EDGE_CM) * (width_cm + 2 * EDGE_CM) / 10_000
