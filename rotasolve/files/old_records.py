"""Old records of what grew where, from a table in CSV (RFC 4180) whose columns are found by their headings."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from rotasolve.domain.scenario import PastPlanting
from rotasolve.domain.seasons import garden_year, parse_date
from rotasolve.errors import FileTrouble, InputFault, Unusable
from rotasolve.files.crop_names import fold
from rotasolve.files.diary_names import DiaryNames
from rotasolve.files.document import TextPlace, fault_at, quoted
from rotasolve.files.files import decode, read_bytes

if TYPE_CHECKING:
    from pathlib import Path

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.fault import Fault
    from rotasolve.domain.scenario import Scenario

Column = Literal["bed", "crop", "year", "strips", "until"]
COLUMNS: tuple[Column, ...] = Column.__args__  # type: ignore[attr-defined]
NEEDED: tuple[Column, ...] = ("bed", "crop", "year")
HEADINGS: Mapping[Column, tuple[str, ...]] = {
    "bed": ("bed", "plot", "raised bed", "bed name", "where", "place"),
    "crop": ("crop", "plant", "vegetable", "crop name", "what", "grown"),
    "year": ("year", "season", "sown", "planted", "date", "start"),
    "strips": ("strips", "strip", "rows", "part"),
    "until": ("until", "cleared", "free from", "end"),
}
"""Headings by which a column is known, whatever their case."""
MOST_ROWS = 2000
_LARGEST = 5_000_000
_RUN = re.compile(r"(\d{1,3})(?:\s*[-\u2013]\s*(\d{1,3}))?$")


@dataclass(frozen=True)
class Table:
    """A table as it was read: its headings, and each row's cells with the line on which it ends in the file."""

    name: str
    lines: tuple[str, ...]
    headings: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]

    def fault(self, line: int, cell: str, what: str, mend: str) -> Fault:
        """Return a fault at a cell of the row that ends on a line; at the line's begin if the cell is not on it."""
        shown = self.lines[line - 1] if line <= len(self.lines) else ""
        return fault_at(self.name, self.lines, TextPlace(line, max(0, shown.find(cell)) + 1), what, mend)


def read_table(path: Path) -> Table:
    """Return the table of a CSV file whose cells are parted by commas, semicolons or tabs.

    Raises
    ------
    FileTrouble
        If the file is missing, or a spreadsheet.
    InputFault
        If it is not text, or holds no heading and rows.
    """
    name, content = str(path), read_bytes(path, str(path), _LARGEST)
    if content.startswith(b"PK"):
        raise FileTrouble(f"{name}: this is a spreadsheet; save its sheet as CSV (UTF-8), then import that")
    text = decode(content, name)
    lines = tuple(re.split(r"\r\n|\n|\r", text))
    first = next((line for line in lines if line.strip()), "")
    parting = max(",;\t", key=first.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=parting)
    try:
        rows = [(reader.line_num, tuple(cell.strip() for cell in row)) for row in reader if any(row)]
    except csv.Error as error:
        place = TextPlace(reader.line_num, 1)
        raise InputFault([fault_at(name, lines, place, f"the table cannot be read: {error}", "")]) from None
    if len(rows) < 2:
        what = "the table needs a line of headings and at least one row"
        raise InputFault([fault_at(name, lines, TextPlace(1, 1), what, "its columns are bed, crop and year")])
    return Table(name, lines, rows[0][1], tuple(rows[1:]))


def columns_of(table: Table, told: Mapping[Column, str]) -> dict[Column, int]:
    """Return the places of the columns that are known by what the grower told, or by their headings.

    Raises
    ------
    FileTrouble
        If a heading that was told is not there.
    """
    places = {fold(heading): place for place, heading in reversed(list(enumerate(table.headings)))}
    found: dict[Column, int] = {}
    for column in COLUMNS:
        if column in told:
            place = places.get(fold(told[column]))
            if place is None:
                there = ", ".join(quoted(heading) for heading in table.headings)
                raise FileTrouble(f"{table.name}: no column is headed {quoted(told[column])}; there are {there}")
            found[column] = place
            continue
        known = [places[heading] for heading in HEADINGS[column] if heading in places]
        free = [
            place for place in known if place not in (*found.values(), *(places.get(fold(w)) for w in told.values()))
        ]
        if free:
            found[column] = free[0]
    return found


def history_in(
    table: Table, columns: Mapping[Column, int], scenario: Scenario, catalogue: Catalogue, means: Mapping[str, str]
) -> tuple[PastPlanting, ...]:
    """Return what grew where, one record a row, each once, with the names of scenario and catalogue.

    ``means`` says what names of the table are called in the scenario.

    Raises
    ------
    InputFault
        With the faults of all rows: then none is taken.
    """
    reading = _Reading(table, columns, scenario, DiaryNames(scenario, catalogue), means)
    found = [past for line, cells in table.rows if (past := reading.past(line, cells)) is not None]
    if reading.faults:
        raise InputFault(reading.faults)
    return tuple(dict.fromkeys(found))


class _Reading:
    """One pass over the rows of a table."""

    def __init__(
        self,
        table: Table,
        columns: Mapping[Column, int],
        scenario: Scenario,
        names: DiaryNames,
        means: Mapping[str, str],
    ) -> None:
        self.table, self.columns, self.scenario, self.names = table, columns, scenario, names
        self.means = {fold(old): new for old, new in means.items()}
        self.faults: list[Fault] = []

    def past(self, line: int, cells: Sequence[str]) -> PastPlanting | None:
        before = len(self.faults)
        row = {column: cells[place] if place < len(cells) else "" for column, place in self.columns.items()}
        for column in NEEDED:
            if not row[column]:
                self._refuse(line, "", f"the row has no {column}", "write it, or take the row out")
        if len(self.faults) > before:
            return None
        bed = self._named(line, row["bed"], "bed")
        crop = self._named(line, row["crop"], "crop")
        year = self._year(line, row["year"])
        until = self._day(line, row.get("until", ""))
        strips = tuple(self._strips(line, row.get("strips", ""), bed))
        if year is not None and not self._before_the_plan(year, until is not None):
            what = f"{row['year']} does not lie before the plan, which begins in {self.scenario.first_year}"
            self._refuse(line, row["year"], what, "take the row out, or say until when it stands")
        if len(self.faults) > before:
            return None
        return PastPlanting.model_validate({"bed": bed, "crop": crop, "year": year, "strips": strips, "until": until})

    def _refuse(self, line: int, cell: str, what: str, mend: str) -> None:
        self.faults.append(self.table.fault(line, cell, what, mend))

    def _before_the_plan(self, year: int, still_stands: bool) -> bool:
        return year < self.scenario.first_year + still_stands

    def _named(self, line: int, cell: str, kind: Literal["bed", "crop"]) -> str | None:
        known = self.names.beds if kind == "bed" else self.names.crops
        found = known.find(self.means.get(fold(cell), cell))
        if found is None:
            bed = (f"there is no bed {quoted(cell)}", self.names.beds.hint(cell) or self.names.known_beds())
            what, mend = bed if kind == "bed" else self.names.crops.trouble(cell)
            self._refuse(line, cell, what, f"{mend} (--means '{cell}=...' says what it is)")
        return found

    def _year(self, line: int, cell: str) -> int | None:
        if re.fullmatch(r"(19[5-9]|20\d|21\d)\d(/\d\d)?", cell):
            return int(cell[:4])
        try:
            return garden_year(parse_date(cell), self.names.south)
        except Unusable:
            self._refuse(line, cell, f"{quoted(cell)} is neither a year nor a date", "write it as 2026 or 2026-05-12")
            return None

    def _day(self, line: int, cell: str) -> object:
        try:
            return parse_date(cell) if cell else None
        except Unusable as refusal:
            self._refuse(line, cell, refusal.what, refusal.mend)
            return None

    def _strips(self, line: int, cell: str, bed: str | None) -> Iterator[int]:
        most = self.names.strips.get(bed or "", 0)
        for part in re.split(r"[,;+\s]+(?:and\s+)?", cell) if cell and bed else ():
            match = _RUN.match(part)
            first, last = (int(match[1]), int(match[2] or match[1])) if match else (0, 0)
            if not 1 <= first <= last <= most:
                what = f"{quoted(part)} is no strip of {quoted(bed)}, which has {most}"
                self._refuse(line, cell, what, "write strips as 1-3, 5; leave the cell empty for the whole bed")
                return
            yield from range(first, last + 1)
