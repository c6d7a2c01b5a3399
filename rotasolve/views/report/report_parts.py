"""What the parts of the report share: the answers it is made of, and tables as its templates take them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from rotasolve.domain.seasons import garden_year
from rotasolve.relations.ground.crop_shares import crop_shares
from rotasolve.relations.household.hungry_gap import springs_of
from rotasolve.views.words.layout import Column, without_empty

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.crop_share import CropShare
    from rotasolve.domain.missed import Missed
    from rotasolve.domain.plan import Plan, Planting
    from rotasolve.domain.supply import CropSupply, SpringSupply
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.work.jobs import Job
    from rotasolve.views.words.look import Look

Paper = Literal["A4", "Letter"]


@dataclass(frozen=True)
class Told:
    """All that a report tells: a plan the referee has judged, jobs, supplies, years to show, why wishes are missed."""

    garden: Garden
    plan: Plan
    jobs: tuple[Job, ...]
    supplies: tuple[CropSupply, ...]
    years: tuple[int, ...]
    look: Look
    missed: tuple[Missed, ...] = ()

    @cached_property
    def shares(self) -> dict[Planting, CropShare]:
        """The plantings that give less than a full crop."""
        return crop_shares(self.plan.plantings, self.garden.scenario, self.garden.catalogue)

    @cached_property
    def springs(self) -> tuple[SpringSupply, ...]:
        """What each spring has to eat."""
        return springs_of(self.garden, self.supplies)

    @property
    def south(self) -> bool:
        """Whether the garden lies in the southern hemisphere."""
        return self.garden.scenario.site.south

    def year_of(self, day: date) -> int:
        """Return the plan's garden year a day belongs to: what comes before the plan is told with its first year."""
        first = self.plan.first_year
        return min(max(garden_year(day, self.south), first), first + self.plan.years - 1)


@dataclass(frozen=True)
class PageTable:
    """A table: ``head`` is the place of the cell that names its row."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    head: int = 0

    @property
    def numbers(self) -> str:
        """Return the classes that set columns of numbers to the right."""
        return " ".join(f"n{nth}" for nth, column in enumerate(self.columns, start=1) if column.number)


def page_table(
    caption: str, columns: Sequence[Column], rows: Sequence[Sequence[str]], head: int = 0
) -> PageTable | None:
    """Return a table without the columns that are empty throughout; None if it has no rows."""
    shown, cells = without_empty(columns, rows)
    return PageTable(caption, tuple(shown), tuple(tuple(row) for row in cells), head) if cells else None
