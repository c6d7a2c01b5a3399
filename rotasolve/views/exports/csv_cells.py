"""Tables as CSV (RFC 4180) that no spreadsheet takes for formulas."""

from __future__ import annotations

import csv
import io
import re
from typing import TYPE_CHECKING

from rotasolve.views.words.wording import clean

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\uff1d", "\uff0b", "\uff0d", "\uff20")
_NUMBER = re.compile(r"-?\d+(\.\d+)?")
"""A number is no formula, below nothing either."""


def csv_text(fields: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Return a table as CSV: a header and one line a row; None is an empty cell.

    A text that a spreadsheet could take for a formula gets an apostrophe before it.
    """
    page = io.StringIO(newline="")
    writer = csv.writer(page, lineterminator="\r\n")
    writer.writerow(fields)
    for row in rows:
        writer.writerow([harmless(cell) if isinstance(cell, str) else cell for cell in row])
    return page.getvalue()


def harmless(text: str) -> str:
    """Return a text on one line that is no formula."""
    text = clean(text)
    return f"'{text}" if text.lstrip().startswith(_FORMULA) and not _NUMBER.fullmatch(text) else text
