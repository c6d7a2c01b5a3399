"""When crops may be started, what each start gives and why windows open and close: a table, or all in full."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.views.words.layout import Column, table, wrap
from rotasolve.views.words.start_shares import (
    PARTS_LEGEND,
    SHARES_LEGEND,
    good_cell,
    most_cell,
    say_parts,
    say_shares,
)
from rotasolve.views.words.windows import say
from rotasolve.views.words.wording import TIED, say_date, say_span

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from rotasolve.relations.season.crop_seasons import OpenWindow, StartSeason
    from rotasolve.relations.season.reasons import WindowReason
    from rotasolve.views.words.look import Look

_WINDOW_COLUMNS = (
    Column("Crop"),
    Column("Way"),
    Column("Cover"),
    Column("Start"),
    Column("Good"),
    Column("Best", number=True),
    Column("First picking"),
)
_TABLE_LEGEND = (
    "Good: which of these starts are. Best: what the best of them gives of a full crop, the published yield."
)


def window_table(seasons: Sequence[StartSeason], year: int, south: bool, look: Look) -> list[str]:
    """Return the windows as a table, with what its words mean below it."""
    lines = [*table(_WINDOW_COLUMNS, _window_rows(seasons, year, south, look), look), ""]
    hint = "'rotasolve season SCENARIO CROP' says why a window opens and closes, and what a start then gives."
    for text in (_TABLE_LEGEND, PARTS_LEGEND, hint):
        lines += wrap(text, look.text_width)
    return lines


def share_legend(seasons: Iterable[StartSeason], look: Look) -> list[str]:
    """Return what the words and numbers of windows in full mean; nothing where there are none."""
    if not any(opened.shares for season in seasons for opened in season.windows):
        return []
    return ["", *wrap(PARTS_LEGEND, look.text_width), *wrap(SHARES_LEGEND, look.text_width)]


def season_lines(season: StartSeason, year: int, south: bool, look: Look) -> list[str]:
    """Return one way of starting under one cover: each window with its reasons, or why there is none."""
    lines: list[str] = []
    place = season.cover if season.cover == "open ground" else f"under {season.cover}"
    for opened in season.windows:
        window = opened.window
        span = say_span(window.earliest, window.latest, year, south, look)
        first, last = (say_date(day, year, south) for day in (opened.first_picking, opened.last_start_picking))
        text = f"{season.way}, {place}: {span}; first picking {first} to {last}"
        lines += wrap(text, look.text_width, "", "  ")
        for told in _shares(opened, year, south, look):
            lines += wrap(told, look.text_width, "    ", "      ")
        lines += reason_lines("opens", window.opens, look)
        lines += reason_lines("closes", window.closes, look)
        lines += reason_lines("note", window.notes, look)
        lines += reason_lines("beware", () if opened.warning is None else (opened.warning,), look)
    if season.windows and season.quick_days is not None:
        quick = f"counted with quick kinds ({season.quick_days}{TIED}days): usual ones give less here, or do not ripen"
        lines += wrap(quick, look.text_width, "    ", "      ")
    if season.closed is not None:
        lines += wrap(f"{season.way}, {place}: never", look.text_width, "", "  ")
        lines += reason_lines("because", (season.closed,), look)
    return lines


def _shares(opened: OpenWindow, year: int, south: bool, look: Look) -> Iterator[str]:
    if opened.shares:
        yield say_parts(opened, year, south, look)
        yield say_shares(opened.shares, look)


def _window_rows(seasons: Sequence[StartSeason], year: int, south: bool, look: Look) -> Iterator[tuple[str, ...]]:
    covered = any(season.cover != "open ground" for season in seasons)
    for season in seasons:
        # Where all grow in the open nothing needs to be said of covers, and the table stays narrow.
        begin = (season.crop, season.way.replace(" ", TIED), season.cover if covered else "")
        for opened in season.windows:
            span = say_span(opened.window.earliest, opened.window.latest, year, south, look)
            picking = say_span(opened.first_picking, opened.last_start_picking, year, south, look)
            warn = "; opens before the last frost" if opened.warning is not None else ""
            good, most = good_cell(opened, year, south, look), most_cell(opened)
            yield *begin, span + warn, good, most, picking
        if season.closed is not None:
            yield *begin, "never", "", "", ""


def reason_lines(label: str, reasons: Iterable[WindowReason], look: Look) -> list[str]:
    """Return reasons, each under a label, with the keys of their sources where codes are shown."""
    lines: list[str] = []
    for reason in reasons:
        cited = f" [{', '.join(reason.sources)}]" if reason.sources and look.codes else ""
        lines += wrap(f"{label}: {say(reason, look)}{cited}", look.text_width, "    ", "      ")
    return lines
