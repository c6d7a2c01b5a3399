"""What the plots of an association order together, when they need the same tools, and who could swap with whom."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import period_of, say_year
from rotasolve.relations.work.shopping import Purchase
from rotasolve.views.pages.shopping_page import WARE_HEADINGS, counting_notes, purchase_cells, say_half_month
from rotasolve.views.words.layout import Column, heading, table, wrap
from rotasolve.views.words.summary import say_area
from rotasolve.views.words.weeks import say_week
from rotasolve.views.words.wording import TIED, say_count, say_kg, say_number

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.sharing import Pair, ShareSum
    from rotasolve.views.words.look import Look

MOST_PAIRS = 20
"""Pairs of gardens that a page shows; JSON and CSV have all."""
_GARDENS = Column("Gardens", number=True)
_ORDER = (Column("What"), Column("Amount", number=True), Column("Weight", number=True), _GARDENS)
_SPREAD = (
    Column("Week"),
    Column("Compost or manure", number=True),
    _GARDENS,
    Column("Ground to lime", number=True),
    _GARDENS,
)
_TOOLS = (Column("Tool"), Column("Busiest week"), _GARDENS, Column("Jobs", number=True), Column("Weeks", number=True))
_BALANCE = (
    Column("When"),
    Column("Crop"),
    Column("To spare", number=True),
    _GARDENS,
    Column("Short", number=True),
    _GARDENS,
)
_PAIRS = (Column("Garden"), Column("Could give"), Column("To"), Column("And get"))


def share_page(sums: Sequence[ShareSum], pairs: Sequence[Pair], gardens: int, south: bool, look: Look) -> str:
    """Return the sums of one or more garden years as a page."""
    years = sorted({one.year for one in sums})
    lines: list[str] = []
    for year in years:
        ours = [one for one in sums if one.year == year]
        lines += heading(f"{say_count(gardens, 'garden')} in {say_year(year, south)}", look, "=")
        lines += [*_orders(ours, look), *_spread(ours, look), *_tools(ours, look), *_balance(ours, look), ""]
    lines += _swaps(pairs, look)
    lines += ["", *heading("How it is counted", look)]
    for note in (*counting_notes(look)[:2], *_NOTES):
        lines += wrap(f"- {note}", look.text_width, "", "  ")
    return "\n".join(lines) + "\n"


_NOTES = (
    "Kit is the sum of what each garden has in use on its own fullest day: gardens that lend to one another need less.",
    "The tool for a job is common practice. A week counts the gardens that want it on any of its days.",
    "Manure may stand in for compost where each garden's calendar says so, never later than it says there.",
    "To spare is what is left over in a usual year after eating and keeping; short is what is wished and not there. "
    "The most goes to the shortest first; less than 200 g is left where it is.",
)


def _orders(sums: Sequence[ShareSum], look: Look) -> list[str]:
    lines: list[str] = []
    for kind, said in (("order", "To order together"), ("kit", "Kit")):
        bought = [one for one in sums if one.kind == kind]
        if bought:
            lines += ["", *heading(said, look)]
        for ware, title in WARE_HEADINGS.items():
            rows = [_order(one, look) for one in bought if one.ware == ware]
            if rows:
                lines += ["", *wrap(f"{title}:", look.text_width), *table(_ORDER, rows, look, "  ")]
    return lines


def _order(one: ShareSum, look: Look) -> tuple[str, ...]:
    bought = Purchase(one.ware, one.what, one.amount, one.unit, one.grams)  # type: ignore[arg-type]
    return (*purchase_cells(bought, look), str(one.gardens))


def _spread(sums: Sequence[ShareSum], look: Look) -> list[str]:
    by_week: dict[object, dict[str, ShareSum]] = {}
    for one in sums:
        if one.kind in ("compost", "lime"):
            by_week.setdefault(one.first, {})[one.kind] = one
    rows = []
    for week, spread in by_week.items():
        compost, lime = spread.get("compost"), spread.get("lime")
        rows.append(
            (
                say_week(week),  # type: ignore[arg-type]
                "" if compost is None else f"{math.ceil(compost.amount):,}{TIED}litres",
                "" if compost is None else str(compost.gardens),
                "" if lime is None else say_area(lime.amount, look),
                "" if lime is None else str(lime.gardens),
            )
        )
    return ["", *heading("Compost and lime by week", look), *table(_SPREAD, rows, look)] if rows else []


def _tools(sums: Sequence[ShareSum], look: Look) -> list[str]:
    by_tool: dict[str, list[ShareSum]] = {}
    for one in sums:
        if one.kind == "tool":
            by_tool.setdefault(one.what, []).append(one)
    rows = []
    for tool, weeks in sorted(by_tool.items()):
        busiest = max(weeks, key=lambda week: (week.gardens, week.amount))
        counts = str(busiest.gardens), say_number(busiest.amount), str(len(weeks))
        rows.append((tool, say_week(busiest.first), *counts))
    return ["", *heading("Tools wanted at once", look), *table(_TOOLS, rows, look)] if rows else []


def _balance(sums: Sequence[ShareSum], look: Look) -> list[str]:
    by_time: dict[tuple[object, str], dict[str, ShareSum]] = {}
    for one in sums:
        if one.kind in ("to spare", "short"):
            by_time.setdefault((one.first, one.what), {})[one.kind] = one
    rows = []
    for (_, crop), sides in sorted(by_time.items(), key=lambda item: item[0]):
        spare, short = sides.get("to spare"), sides.get("short")
        if spare is not None and short is not None:
            when = say_half_month(period_of(spare.first))
            amounts = say_kg(spare.amount), str(spare.gardens), say_kg(short.amount), str(short.gardens)
            rows.append((when, crop, *amounts))
    if not rows:
        return []
    return ["", *heading("Too much here, too little there", look), *table(_BALANCE, rows, look)]


def _swaps(pairs: Sequence[Pair], look: Look) -> list[str]:
    lines = heading("Who could swap with whom", look)
    if not pairs:
        return [*lines, *wrap("Nobody has to spare what another is short of at the same time.", look.text_width)]
    rows = [(pair.one, _say_kg(pair.gives_kg), pair.other, _say_kg(pair.gets_kg)) for pair in pairs[:MOST_PAIRS]]
    lines += table(_PAIRS, rows, look)
    if len(pairs) > MOST_PAIRS:
        lines += wrap(f"And {say_count(len(pairs) - MOST_PAIRS, 'pair')} more; --json and --csv have all.", look.width)
    return lines


def _say_kg(amounts: Sequence[tuple[str, float]]) -> str:
    return ", ".join(f"{say_kg(kg)} {crop}" for crop, kg in amounts)
