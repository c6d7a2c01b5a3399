"""What was weighed beside what was published, and the yields that follow from it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_year
from rotasolve.relations.season.own_yields import own_yields
from rotasolve.views.words.layout import Column, heading, table, wrap
from rotasolve.views.words.own_yields import say_own_yield
from rotasolve.views.words.wording import TIED, clean, say_count, say_kg, say_number

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.ground.weighings import Weighing
    from rotasolve.views.words.look import Look

_COLUMNS = (
    Column("Crop"),
    Column("Year"),
    Column("Weighed", number=True),
    Column("Published yield", number=True),
    Column("Share", number=True),
    Column("Of"),
)


def yields_page(scenario: Scenario, weighings: Sequence[Weighing], then: Scenario, look: Look) -> str:
    """Return the weighings as a table, and for each crop what is counted now and what would be (``then``)."""
    lines = heading(clean(f"Yields of {scenario.title}"), look, "=")
    if not weighings:
        return "\n".join([*lines, *wrap("The diary weighs nothing of this plan's plantings.", look.text_width)]) + "\n"
    lines += table(_COLUMNS, [_row(one, scenario.site.south) for one in weighings], look)
    if any(one.unweighed for one in weighings):
        lines += ["", *wrap("What was not weighed is left out on both sides.", look.text_width)]
    if any(one.beyond and one.over for one in weighings):
        lines += ["", *wrap(_BEYOND, look.text_width)]
    before, after = own_yields(scenario.weighed), own_yields(then.weighed)
    if after:
        lines += ["", *heading("What is counted", look)]
    for crop, own in after.items():
        now = f"{say_number(before[crop].factor * 100, 0)}{TIED}%" if crop in before else f"100{TIED}%"
        change = "" if before.get(crop) == own else f"; {now} without the new seasons"
        lines += wrap(f"{crop}: {say_own_yield(own)}{change}.", look.text_width, "", "  ")
    return "\n".join([*lines, "", *wrap(_HOW, look.text_width)]) + "\n"


_BEYOND = (
    "The range is the published one from a poor to a good year. Beyond it, see whether every picking was told, of the "
    "right bed, and whether the plan's number of plants stood there."
)
_HOW = (
    "The mean of the seasons is counted by seasons / (seasons + 2), the published yield by the rest. Weigh every "
    "picking of a planting, or leave its year out. Plants that failed are not expected to give anything."
)


def _row(one: Weighing, south: bool) -> tuple[str, ...]:
    of = say_count(one.plantings, "planting") + (f", {one.unweighed} not weighed" if one.unweighed else "")
    share = f"{say_number(100 * one.kg / one.published_kg, 0)}{TIED}%" if one.published_kg else "-"
    share += f", {one.beyond} the range" if one.beyond and one.over else ""
    year = say_year(one.year, south) + ("" if one.over else ", still picked")
    return one.crop, year, say_kg(one.kg), say_kg(one.published_kg), share, of
