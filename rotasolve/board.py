"""The board on which rules and goals are posted: whole-number variables, linear rows, and points lost.

It knows no solver. ``solver/`` hands the same rows to CP-SAT and to HiGHS, so that one can check the other, and
``clash`` hands them over with a switch for each claim. Every row stands inside ``because(claim)``; only the
definitions of marks, which bind nothing by themselves, stand outside.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rotasolve.domain.claim import Claim
    from rotasolve.relations.ground.families import RestGroup
    from rotasolve.relations.ground.garden import Cell, Garden
    from rotasolve.relations.ground.hosts import HostYears

Term = tuple[int, int]
"""(variable number, whole-number coefficient)."""


@dataclass(frozen=True)
class Row:
    """``low <= sum of terms <= high``; ``claim`` None marks a definition.

    With ``each``, the last term is a mark, and the row is meant of every other term alone, with ``each`` in place of
    the mark: together they are no stricter where a strip holds one crop at a time, and tighter for the solver.
    With ``singly``, so many of the first terms are such, and each is meant beside all the others.
    """

    terms: tuple[Term, ...]
    low: int
    high: int
    claim: Claim | None
    each: Term | None = None
    singly: int = 0

    @property
    def loose(self) -> tuple[tuple[Term, ...], ...]:
        """The terms of the rows that are meant, which do not count on a strip holding one crop at a time."""
        if self.each is not None:
            return tuple((term, self.each) for term in self.terms[:-1])
        if self.singly:
            return tuple((term, *self.terms[self.singly :]) for term in self.terms[: self.singly])
        return (self.terms,)


@dataclass(frozen=True)
class Visit:
    """What a mark stands for: a group in a zone, by plantings that are hosts in just these garden years."""

    zone: Cell
    group: str
    years: HostYears

    def __str__(self) -> str:
        """Name the mark's variable."""
        return f"{self.group} in {self.zone} in {self.years[0]} to {self.years[1]}"


@dataclass
class Board:
    """Variables, rows and points of one garden. Variables 0 to len(garden.choices) - 1 are the choices."""

    garden: Garden
    names: list[str] = field(default_factory=list)
    upper: list[int] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)
    points: dict[int, int] = field(default_factory=lambda: defaultdict(int))
    points_always: int = 0
    _claim: Claim | None = None
    _posted: set[Claim] = field(default_factory=set)
    _marks: dict[tuple[Visit, frozenset[int]], int] = field(default_factory=dict)
    _standing: dict[tuple[str, int, frozenset[int]], int | None] = field(default_factory=dict)
    _on_cell: dict[Cell, dict[int, list[int]]] = field(default_factory=lambda: defaultdict(lambda: defaultdict(list)))
    _of_cell: dict[Cell, dict[str, set[int]]] = field(default_factory=lambda: defaultdict(lambda: defaultdict(set)))
    _by_crop: dict[tuple[Cell, int], dict[str, list[int]]] = field(default_factory=dict)
    _strips: list[int] = field(default_factory=list)
    _crops: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        size = self.garden.cells
        for number, choice in enumerate(self.garden.choices):
            self._strips.append(choice.strips_per_cell)
            self._crops.append(choice.sowing.crop)
            self.variable(choice.name, int(all(size[cell] >= choice.strips_per_cell for cell in choice.cells)))
            periods = choice.sowing.periods
            for cell in choice.cells:
                self._of_cell[cell][choice.sowing.crop].add(number)
                here = self._on_cell[cell]
                for period in periods:
                    here[period].append(number)

    def variable(self, name: str, upper: int) -> int:
        """Add a whole-number variable from 0 to ``upper`` and return its number."""
        self.names.append(name)
        self.upper.append(upper)
        return len(self.names) - 1

    @contextmanager
    def because(self, claim: Claim) -> Iterator[None]:
        """Tie every row posted inside to ``claim``.

        Raises
        ------
        RuntimeError
            If a claim is opened inside another, or posted twice: both are mistakes in a rule.
        """
        if self._claim is not None:
            raise RuntimeError(f"{claim} opened inside {self._claim}")
        if claim in self._posted:
            raise RuntimeError(f"{claim} posted twice")
        self._posted.add(claim)
        self._claim = claim
        try:
            yield
        finally:
            self._claim = None

    def at_most(self, terms: Iterable[Term], bound: int) -> None:
        """Demand that the sum is at most ``bound``."""
        self._row(terms, -(10**12), bound)

    def each_at_most(self, terms: Sequence[Term], mark: Term, bound: int, alone: Term | None = None) -> None:
        """Demand that each term with ``mark`` is at most ``bound``: on ground kept for one crop at a time their sum is.

        ``alone`` stands in for ``mark`` where other claims may be switched off; the same mark if left out.
        """
        if terms:
            self._row([*terms, mark], -(10**12), bound, alone or mark)

    def beside_each(self, singly: Sequence[Term], beside: Sequence[Term], bound: int) -> None:
        """Demand that ``beside`` with each of ``singly`` is at most ``bound``, where the ground holds these apart."""
        if singly:
            self._row([*singly, *beside], -(10**12), bound, singly=len(singly))

    def at_least(self, terms: Iterable[Term], bound: int) -> None:
        """Demand that the sum is at least ``bound``."""
        self._row(terms, bound, 10**12)

    def never(self, variables: Iterable[int]) -> None:
        """Demand that each variable is 0."""
        for variable in variables:
            self._row([(variable, 1)], 0, 0)

    def not_both(self, one: int | None, other: int | None) -> None:
        """Demand that at most one of two marks is set; a mark that can never be set asks nothing."""
        if one is not None and other is not None:
            self._row([(one, 1), (other, 1)], -(10**12), 1)

    def _row(self, terms: Iterable[Term], low: int, high: int, each: Term | None = None, singly: int = 0) -> None:
        if self._claim is None:
            raise RuntimeError("a row was posted outside because(claim)")
        self.rows.append(Row(tuple(terms), low, high, self._claim, each, singly))

    def _raise(self, mark: int, terms: Sequence[Term], strips: int) -> None:
        """Raise a mark as soon as any strip is taken: the strips taken are at most ``strips`` times the mark."""
        self.rows.append(Row((*terms, (mark, -strips)), -(10**12), 0, None, (mark, -strips)))

    def define(self, terms: Iterable[Term], low: int = -(10**12), high: int = 10**12) -> None:
        """Bind a goal's or a mark's own variable to the choices. Such a row can always be met."""
        self.rows.append(Row(tuple(terms), low, high, None))

    def lose(self, points: int, variable: int) -> None:
        """Charge ``points`` for each unit of a variable (negative: win them back)."""
        self.points[variable] += points

    def lose_always(self, points: int) -> None:
        """Charge points that no plan can avoid or that ``lose`` wins back."""
        self.points_always += points

    def on_cell(self, cell: Cell, period: int) -> Sequence[int]:
        """Return the choices that take ground from a cell in a half month."""
        return self._on_cell[cell].get(period, ()) if cell in self._on_cell else ()

    def on_cell_by_crop(self, cell: Cell, period: int) -> Mapping[str, Sequence[int]]:
        """Return the choices that take ground from a cell in a half month, crop by crop."""
        if (cell, period) not in self._by_crop:
            found: dict[str, list[int]] = defaultdict(list)
            for number in self.on_cell(cell, period):
                found[self._crops[number]].append(number)
            self._by_crop[cell, period] = dict(found)
        return self._by_crop[cell, period]

    def crop_of(self, number: int) -> str:
        """Return the crop of a choice."""
        return self._crops[number]

    def strips_of(self, number: int) -> int:
        """Return the strips that a choice takes from each of its cells."""
        return self._strips[number]

    def members(self, cells: Iterable[Cell], crops: frozenset[str] | None = None) -> frozenset[int]:
        """Return the choices that take ground from any of the cells, of all crops or of some."""
        return frozenset().union(
            *(
                numbers
                for cell in cells
                if cell in self._of_cell
                for crop, numbers in self._of_cell[cell].items()
                if crops is None or crop in crops
            )
        )

    def periods_of(self, cells: Iterable[Cell]) -> list[int]:
        """Return the half months in which any choice takes ground from the cells, in order."""
        return sorted(set().union(*(self._on_cell[cell] for cell in cells if cell in self._on_cell)))

    def ground_terms(self, cell: Cell, period: int, among: frozenset[int] | None = None) -> tuple[Term, ...]:
        """Return the strips taken from a cell in a half month, as terms, by all choices or those ``among``."""
        strips = self._strips
        if among is None:
            return tuple([(number, strips[number]) for number in self.on_cell(cell, period)])
        return tuple([(number, strips[number]) for number in self.on_cell(cell, period) if number in among])

    def crowded(self, cell: Cell, among: frozenset[int] | None = None) -> Iterator[tuple[int, tuple[Term, ...]]]:
        """Yield (half month, terms) for the half months whose choices do not all stand in a neighbouring one too.

        The others ask nothing new of capacity.
        """
        numbers_here = self.members([cell]) if among is None else self.members([cell]) & among
        sowings = {self.garden.choices[number].sowing for number in numbers_here}
        periods = sorted({period for sowing in sowings for period in sowing.periods})
        kept: list[tuple[int, tuple[Term, ...], frozenset[int]]] = []
        for period in periods:
            terms = self.ground_terms(cell, period, among)
            numbers = frozenset(number for number, _ in terms)
            if not numbers or (kept and numbers <= kept[-1][2]):
                continue
            while kept and kept[-1][2] <= numbers:
                kept.pop()
            kept.append((period, terms, numbers))
        yield from ((period, terms) for period, terms, _ in kept)

    def mark(self, what: Visit, among: frozenset[int]) -> int:
        """Return a 0/1 variable that is 1 whenever any choice ``among`` is taken.

        The same matter of the same choices gives the same mark. In each half month the strips taken are at most the
        cell's strips times the mark, which is tighter than binding each choice alone.
        """
        key = (what, among)
        if key in self._marks:
            return self._marks[key]
        mark = self._marks[key] = self.variable(str(what), 1)
        for cell in sorted({cell for number in among for cell in self.garden.choices[number].cells}):
            for _, terms in self.crowded(cell, among):
                self._raise(mark, terms, self.garden.cells[cell])
        return mark

    def stands(self, cells: tuple[Cell, ...], period: int, among: frozenset[int]) -> int | None:
        """Return a 0/1 variable that is 1 whenever a choice ``among`` stands on the cells in a half month."""
        here = frozenset(n for cell in cells for n in self.on_cell(cell, period) if n in among)
        key = (cells[0].bed, period, here)
        if key not in self._standing:
            mark = self.variable(f"stands in {cells[0].bed} in half month {period}", 1) if here else None
            self._standing[key] = mark
            for cell in cells if mark is not None else ():
                terms = self.ground_terms(cell, period, here)
                if terms and mark is not None:
                    self._raise(mark, terms, self.garden.cells[cell])
        return self._standing[key]

    def any_host(self, zone: Cell, hosts: str, year: int, among: frozenset[int]) -> int:
        """Return the mark that any of the choices ``among``, all hosts of a garden year, stands in a zone."""
        return self.mark(Visit(zone, hosts, (year, year)), among)

    def visits(self, zone: Cell, group: RestGroup) -> dict[HostYears, int]:
        """Return a mark for each span of garden years in which plantings of a group are hosts in a zone, in order."""
        by_years: dict[HostYears, set[int]] = defaultdict(set)
        for number in self.members(self.garden.zones[zone], group.crops):
            by_years[self.garden.choices[number].sowing.hosts].add(number)
        return {
            years: self.mark(Visit(zone, group.name, years), frozenset(among))
            for years, among in sorted(by_years.items())
        }
