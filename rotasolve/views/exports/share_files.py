"""What plots order, lend and swap for other programs: CSV rows with ids, and JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.views.exports.csv_cells import csv_text

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from rotasolve.domain.sharing import Pair, ShareRow, ShareSum
    from rotasolve.views.exports.as_json import Answer

_FIELDS = (
    "id",
    "kind",
    "garden",
    "to_garden",
    "garden_year",
    "from",
    "to",
    "ware",
    "what",
    "amount",
    "unit",
    "seed_grams",
)


def share_csv(rows: Iterable[ShareRow]) -> str:
    """Return rows as CSV (RFC 4180), days as ISO 8601; an id stays the same when the amount changes."""
    return csv_text(_FIELDS, (tuple(_row(row).values()) for row in rows))


def share_answer(sums: Iterable[ShareSum], swaps: Iterable[ShareRow], pairs: Sequence[Pair], gardens: int) -> Answer:
    """Return the sums over all gardens, each swap, and what each two gardens could give each other."""
    return {
        "gardens": gardens,
        "sums": [
            {
                "kind": one.kind,
                "garden_year": one.year,
                "from": one.first.isoformat(),
                "to": one.last.isoformat(),
                "ware": one.ware,
                "what": one.what,
                "amount": one.amount,
                "unit": one.unit,
                "seed_grams": _rounded(one.grams),
                "gardens": one.gardens,
            }
            for one in sums
        ],
        "swaps": [_row(row) for row in swaps],
        "pairs": [
            {"one": pair.one, "other": pair.other, "gives_kg": dict(pair.gives_kg), "gets_kg": dict(pair.gets_kg)}
            for pair in pairs
        ],
    }


def _row(row: ShareRow) -> dict[str, str | float | None]:
    cells = (
        row.uid,
        row.kind,
        row.garden,
        row.other or None,
        row.year,
        row.first.isoformat(),
        row.last.isoformat(),
        row.ware,
        row.what,
        row.amount,
        row.unit,
        _rounded(row.grams),
    )
    return dict(zip(_FIELDS, cells, strict=True))


def _rounded(grams: float | None) -> float | None:
    return None if grams is None else round(grams, 2)
