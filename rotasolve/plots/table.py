"""The table beside the plans of many plots: a CSV file for people, from which a later run learns what was done."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from rotasolve.domain.plots import Plot
from rotasolve.errors import FileTrouble, InputFault
from rotasolve.files.files import read_text
from rotasolve.views.exports.csv_cells import csv_text, harmless

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

_FIELDS = {
    "garden": "garden",
    "title": "title",
    "state": "state",
    "wishes_met": "wishes_met",
    "wishes": "wishes",
    "points_lost": "lost",
    "points_lost_in_any_plan": "at_least_lost",
    "seconds": "seconds",
    "note": "note",
    "made_from": "made_from",
}
"""The table's columns, and the fields of a plot that stand in them."""
_LARGEST = 500_000_000
"""Bytes: a million plots."""


def table_text(plots: Iterable[Plot]) -> str:
    """Return the table as CSV (RFC 4180)."""
    return csv_text(tuple(_FIELDS), ([getattr(plot, field) for field in _FIELDS.values()] for plot in plots))


def read_table(file: Path) -> dict[str, Plot]:
    """Return the plots of a table by ``harmless`` garden names; none if there is no such file.

    Raises
    ------
    FileTrouble
        If the file is no table that ``table_text`` wrote: nobody else's file is ever written over.
    """
    if not file.exists():
        return {}
    foreign = FileTrouble(f"{file}: this is not a table of plots; move it away, or choose another folder")
    try:
        reader = csv.DictReader(io.StringIO(read_text(file, largest=_LARGEST), newline=""), strict=True)
        rows = list(reader)
    except (csv.Error, InputFault):
        raise foreign from None
    if tuple(reader.fieldnames or ()) != tuple(_FIELDS):
        raise foreign
    try:
        return {plot.garden: plot for plot in map(_plot, rows)}
    except ValidationError:
        raise foreign from None


def _plot(row: dict[str, Any]) -> Plot:
    return Plot.model_validate({field: row[column] for column, field in _FIELDS.items() if row.get(column)})


def name_in_table(garden: str) -> str:
    """Return how a garden's name stands in a table."""
    return harmless(garden).strip()
