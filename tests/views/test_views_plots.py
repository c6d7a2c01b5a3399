"""The pages of many plots and of what they share, whole screens as a reader sees them."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from datetime import date

import pytest

from rotasolve.domain.plots import Plot
from rotasolve.domain.sharing import Pair, ShareKind, ShareRow
from rotasolve.plots.table import name_in_table, read_table, table_text
from rotasolve.tasks.sharing import pairs_of, sums_of, swaps_of
from rotasolve.views.exports.share_files import share_csv
from rotasolve.views.pages.plots_page import plots_answer, plots_page, say_round
from rotasolve.views.pages.share_page import MOST_PAIRS, share_page
from rotasolve.views.words.layout import columns_of
from rotasolve.views.words.look import Look

Golden = Callable[[str, str], None]
EVIL = '=1+1 <b>"x", y\n\x1b[31m'
YEAR = date(2027, 1, 1), date(2027, 12, 31)
WEEK = date(2027, 3, 1), date(2027, 3, 7)
LATER = date(2027, 3, 8), date(2027, 3, 14)
HALF = date(2027, 8, 1), date(2027, 8, 15)
PLOTS = (
    Plot(
        garden="alder end", state="planned", wishes_met=40, wishes=60, lost=12_345, at_least_lost=11_111, seconds=61.25
    ),
    Plot(garden="birch row", state="kept", wishes_met=6, wishes=6, lost=0, at_least_lost=0, note="changed by hand"),
    Plot(garden="cherry corner", state="faults", note="2 faults"),
    Plot(garden="damson", state="impossible", seconds=3.0),
    Plot(garden="elder", state="failed", seconds=0.5, note="a defect of rotasolve: odd"),
    Plot(garden="fig", state="left alone", note="fig.plan.json was changed by hand"),
    Plot(garden="gooseberry", state="no plan in time", seconds=60.0),
    Plot(garden="hazel", state="waiting"),
)
FAULTS = {"cherry corner": "gardens/cherry corner.yaml:3:1: 'sit' is not a field known here - did you mean 'site'?"}


def row(
    kind: ShareKind, garden: str, span: tuple[date, date], ware: str, what: str, amount: float, unit: str
) -> ShareRow:
    grams = amount / 300 if unit == "seeds" else None
    return ShareRow(kind, garden, 2027, *span, ware, what, amount, unit, grams)


ROWS = (
    row("order", "alder end", YEAR, "seed", "kale", 120, "seeds"),
    row("order", "birch row", YEAR, "seed", "kale", 60, "seeds"),
    row("order", "birch row", YEAR, "tuber", "potato", 40, "pieces"),
    row("kit", "alder end", YEAR, "mesh", "insect mesh", 5.5, "m2"),
    row("tool", "alder end", WEEK, "tool", "wheelbarrow", 2, "jobs"),
    row("tool", "birch row", LATER, "tool", "wheelbarrow", 1, "jobs"),
    row("tool", "alder end", LATER, "tool", "wheelbarrow", 1, "jobs"),
    row("compost", "alder end", WEEK, "compost", "compost", 43.2, "litres"),
    row("lime", "birch row", LATER, "lime", "lime", 2.16, "m2"),
    row("to spare", "alder end", HALF, "harvest", "kale", 2.25, "kg"),
    row("short", "birch row", HALF, "harvest", "kale", 1.5, "kg"),
    row("short", "alder end", HALF, "harvest", "pea", 0.5, "kg"),
    row("to spare", "birch row", HALF, "harvest", "pea", 4, "kg"),
)


@pytest.mark.parametrize("width", [40, 80, 120])
def test_plots_page(golden: Golden, width: int) -> None:
    text = plots_page(PLOTS, FAULTS, Look(width))
    assert all(columns_of(line) <= width for line in text.splitlines())
    golden(f"plots_{width}", text)


@pytest.mark.parametrize("look", [Look(40), Look(80), Look(80, plain=True, inches=True)], ids=["40", "80", "80_ascii"])
def test_share_page(golden: Golden, look: Look) -> None:
    text = share_page(sums_of(ROWS), pairs_of(swaps_of(ROWS)), 2, False, look)
    assert all(columns_of(line) <= look.width for line in text.splitlines())
    assert text.isascii() or not look.plain
    golden(f"share_{look.width}{'_ascii' if look.plain else ''}", text)


def test_of_many_pairs_the_first_are_shown_and_the_rest_counted() -> None:
    pairs = [Pair(f"a{number}", f"b{number}", (("kale", 1.0),), ()) for number in range(MOST_PAIRS + 3)]
    text = share_page([], pairs, 2, False, Look(80))
    assert f"a{MOST_PAIRS - 1}" in text
    assert f"a{MOST_PAIRS} " not in text
    assert "3 pairs more" in text
    assert "Nobody has to spare" in share_page([], [], 2, False, Look(80))


def test_progress_fits_on_its_line() -> None:
    said = say_round(PLOTS, 1, 754.0, 200)
    assert said == "2 of 8 gardens planned, 1 to go, 1 of them in hand, 5 without a plan, about 13 min left"
    for width in range(20, 100):
        assert len(say_round(PLOTS, 1, 754.0, width)) <= width
    assert say_round(PLOTS, 1, None, 45) == "2 of 8 gardens planned"


def test_json_has_every_garden_with_its_faults() -> None:
    told = plots_answer(PLOTS, FAULTS, "plans", stopped=True)
    assert [garden["garden"] for garden in told["gardens"]] == [plot.garden for plot in PLOTS]
    assert told["gardens"][2]["faults"] == FAULTS["cherry corner"]
    assert told["gardens"][0]["points_lost_in_any_plan"] == 11_111
    assert told["stopped_early"] is True


def test_the_table_is_read_back_as_it_was(tmp_path_factory: pytest.TempPathFactory) -> None:
    file = tmp_path_factory.mktemp("table") / "plots.csv"
    odd = (Plot(garden="=1+1", made_from="0" * 16), Plot(garden="-7", title="'x", state="planned", wishes_met=0))
    file.write_text(table_text((*PLOTS, *odd)), encoding="utf-8", newline="")
    found = read_table(file)
    assert [found[name_in_table(plot.garden)].state for plot in (*PLOTS, *odd)] == [
        plot.state for plot in (*PLOTS, *odd)
    ]
    assert [found[plot.garden] for plot in PLOTS] == list(PLOTS)
    assert found["'=1+1"].made_from == "0" * 16


def test_names_of_others_are_harmless() -> None:
    evil = [one._replace(garden=EVIL, what=EVIL) for one in ROWS]
    page = share_page(sums_of(evil), [Pair(EVIL, EVIL, ((EVIL, 1.0),), ())], 1, False, Look(80))
    page += plots_page([PLOTS[0].model_copy(update={"garden": EVIL, "note": EVIL})], {EVIL: EVIL}, Look(80))
    assert "\x1b" not in page
    for cells in csv.reader(io.StringIO(share_csv(evil), newline="")):
        assert not any(cell.startswith("=") or "\n" in cell for cell in cells)
