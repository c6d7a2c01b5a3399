"""What to buy or keep ready for a plan, year by year, and the seedlings indoors by half month."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import MONTHS, first_day, garden_year, say_year
from rotasolve.relations.work.seedlings import TRAY_CM
from rotasolve.relations.work.seeds import SPARE
from rotasolve.relations.work.shopping import EDGE_CM
from rotasolve.views.words.job_words import say_grams
from rotasolve.views.words.layout import Column, heading, table, wrap
from rotasolve.views.words.summary import say_area
from rotasolve.views.words.wording import TIED, clean, say_count, say_length, say_number

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.work.seedlings import SillRoom
    from rotasolve.relations.work.shopping import Purchase, Ware
    from rotasolve.views.words.look import Look

WARE_HEADINGS: dict[Ware, str] = {
    "seed": "Seed",
    "set": "Sets",
    "clove": "Cloves",
    "tuber": "Tubers",
    "slip": "Slips",
    "plant": "Plants",
    "pot": "Pots and cells",
    "tray": "Trays",
    "compost": "Compost",
    "support": "Supports",
    "cover": "Covers",
    "mesh": "Insect mesh",
}
_COLUMNS = (Column("What"), Column("Amount", number=True), Column("Weight", number=True))
_ROOM = (
    Column("When"),
    Column("Pots and cells"),
    Column("Trays", number=True),
    Column("Area", number=True),
    Column("Sill", number=True),
)


def shopping_page(
    garden: Garden,
    bought: Mapping[int, Sequence[Purchase]],
    room: Iterable[SillRoom],
    look: Look,
    sill_depth_cm: float,
) -> str:
    """Return the purchases of some garden years and the seedlings' room in them."""
    south = garden.scenario.site.south
    lines = heading(clean(garden.scenario.title), look, "=")
    months = list(room)
    if not bought:
        return "\n".join([*lines, *wrap("Nothing is begun in these years.", look.text_width)]) + "\n"
    for year, purchases in bought.items():
        lines += ["", *heading(f"For {say_year(year, south)}", look, "=")]
        for ware in dict.fromkeys(purchase.ware for purchase in purchases):
            rows = [purchase_cells(purchase, look) for purchase in purchases if purchase.ware == ware]
            lines += ["", *heading(WARE_HEADINGS[ware], look), *table(_COLUMNS, rows, look, "  ")]
        here = [month for month in months if garden_year(first_day(month.period), south) == year]
        if here:
            said = f"Seedlings indoors, on a sill {say_length(sill_depth_cm, look)} deep"
            lines += ["", *heading(said, look), *table(_ROOM, [_room_row(month, look) for month in here], look, "  ")]
    lines += ["", *heading("How it is counted", look)]
    for note in counting_notes(look):
        lines += wrap(f"- {note}", look.text_width, "", "  ")
    return "\n".join(lines) + "\n"


def purchase_cells(purchase: Purchase, look: Look) -> tuple[str, ...]:
    """Return what is to be bought, how much of it, and its weight where that is known."""
    if purchase.unit == "seeds":
        weight = "" if purchase.grams is None else say_grams(purchase.grams)
        return purchase.what, say_count(round(purchase.amount), "seed"), weight
    if purchase.unit == "g":
        return purchase.what, "", say_grams(purchase.amount)
    if purchase.unit == "m2":
        return purchase.what, say_area(purchase.amount, look), ""
    if purchase.unit == "m":
        return purchase.what, say_length(purchase.amount * 100, look), ""
    if purchase.unit == "litres":
        return purchase.what, say_count(round(purchase.amount), "litre"), ""
    what = purchase.what if purchase.pot_cm is None else f"{purchase.what} of {say_length(purchase.pot_cm, look)}"
    return what, f"{purchase.amount:,.0f}", ""


def _room_row(month: SillRoom, look: Look) -> tuple[str, ...]:
    pots = ", ".join(f"{count} of {say_length(width, look)}" for width, count in month.pots.items())
    sill = say_length(round(month.sill_cm), look)
    return say_half_month(month.period), pots, str(month.trays), _small_area(month.area_m2, look), sill


def _small_area(m2: float, look: Look) -> str:
    return say_area(m2, look) if look.inches else f"{say_number(m2, 2)}{TIED}m2"


def say_half_month(period: int) -> str:
    """Say a half month: ``1-15 May 2027``."""
    day = first_day(period)
    span = "1-15" if day.day == 1 else "from 16"
    return f"{span}{TIED}{MONTHS[day.month - 1][:3]}{TIED}{day.year}"


def counting_notes(look: Look) -> tuple[str, ...]:
    """Return how the amounts are counted, for readers who want to count otherwise."""
    tray = " x ".join(say_length(side, look) for side in TRAY_CM)
    return (
        f"Seeds: plants and {SPARE * 100:.0f} % spare, divided by the germination and times the seeds sown for each "
        "plant, as the crop files give them; 'rotasolve crops NAME' shows the sources. Germination is the least a "
        "packet must have, from memory of 7 CFR 201.31; test old seed.",
        "Weights come from seed counts remembered from 7 CFR 201.46; green manures from sowing rates from memory.",
        f"Pots, trays ({tray}), supports, fleece and mesh are the most in use on one day of the year. Compost: round "
        "pots 0.9 times as high as wide, each filled anew.",
        f"Fleece, film and mesh reach {say_length(EDGE_CM, look)} beyond the ground on every side.",
    )
