"""The plantings of one garden year as a table for each bed: what to do when, and in what number."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import year_end, year_start
from rotasolve.views.words.crop_shares import share_cell
from rotasolve.views.words.layout import Column, heading, table
from rotasolve.views.words.wording import TIED, clean, say_count, say_date, say_runs, say_span, say_yield

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from rotasolve.domain.crop_share import CropShare
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.views.words.look import Look

PLANTING_COLUMNS = (
    Column("Crop"),
    Column("Strips"),
    Column("Sow indoors"),
    Column("Start"),
    Column("Pick"),
    Column("Clear"),
    Column("Plants"),
    Column("Yield (poor to good)", number=True),
)


def plantings_of_year(plan: Plan, year: int, south: bool, beds: Iterable[str]) -> list[Planting]:
    """Return the plantings started in a garden year in some beds, by bed, date and strip.

    What was started before the plan belongs to its first year.
    """
    order = {bed: place for place, bed in enumerate(beds)}
    chosen = [p for p in plan.plantings if max(p.begins_in(south), plan.first_year) == year and p.bed in order]
    return sorted(chosen, key=lambda p: (order[p.bed], p.start, p.strips, p.crop))


def planting_table(
    plantings: list[Planting], shares: Mapping[Planting, CropShare], year: int, south: bool, look: Look
) -> list[str]:
    """Return the lines of the plantings, bed after bed; ``shares`` are those of less than a full crop."""
    lines: list[str] = []
    for bed in dict.fromkeys(planting.bed for planting in plantings):
        rows = [planting_cells(one, shares.get(one), year, south, look) for one in plantings if one.bed == bed]
        lines += [*([""] if lines else []), *heading(clean(bed), look), *table(PLANTING_COLUMNS, rows, look, "  ")]
    return lines


def planting_cells(planting: Planting, share: CropShare | None, year: int, south: bool, look: Look) -> tuple[str, ...]:
    """Return a planting's row of ``PLANTING_COLUMNS``."""
    worth = (say_yield(planting.harvest) if planting.harvest.high_kg else "", share_cell(share))
    ready, last = planting.first_harvest, planting.last_harvest
    begins = planting.begins_in(south)
    # What stays for years takes its ground from the first day of each garden year: nothing is set out on that day.
    stays = planting.start == year_start(begins, south) and planting.way == "set out" and planting.raise_from is None
    start = f"{say_date(planting.start, year, south)}, {planting.way.replace(' ', TIED)}"
    stands_on = stays and planting.clear == year_end(begins, south)
    return (
        planting.crop,
        say_runs(planting.strips, look),
        say_date(planting.raise_from, year, south) if planting.raise_from else "",
        "stands" if stays else start,
        say_span(ready, last, year, south, look) if ready and last else "",
        "" if stands_on else say_date(planting.clear, year, south),
        f"{planting.plants:,} in{TIED}{say_count(planting.rows, 'row').replace(' ', TIED)}",
        f" {look.dash} ".join(text for text in worth if text),
    )
