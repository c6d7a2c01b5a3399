"""What the wishes come to: kilograms and ground for each, said while they are asked for and by ``check``."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.views.words.closed_ground import say_closed
from rotasolve.views.words.ground_need import say_need
from rotasolve.views.words.layout import Column, table, wrap
from rotasolve.views.words.summary import say_area
from rotasolve.views.words.wording import say_crop, say_kg

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rotasolve.domain.closed_ground import ClosedGround
    from rotasolve.domain.ground_need import GroundNeed
    from rotasolve.domain.scenario import Scenario
    from rotasolve.views.words.look import Look

_COLUMNS = (Column("Crop"), Column("A year", number=True), Column("Ground at most", number=True))
_MOST_ROWS = 16
"""Wishes that are set as a table; more are set as a text, or they would fill the screen."""


def wish_lines(scenario: Scenario, need: GroundNeed, look: Look) -> list[str]:
    """Return what the wishes come to, then the ground needed and there; see ``wishes_understood``."""
    lines = wishes_understood(scenario, need, look)
    for said in (*_say_room(need, look), *say_need(need, look)):
        lines += wrap(said, look.text_width, "", "  ")
    return lines


def wishes_understood(scenario: Scenario, need: GroundNeed, look: Look) -> list[str]:
    """Return each wish with its kilograms a year and its ground at the fullest time.

    What no bed of the garden can bear is named, for no ground is reckoned for it. ``scenario`` has its wishes in kg or
    not.
    """
    rows = [(say_crop(wish.crop, scenario.words), say_kg(wish.kg), say_area(wish.m2, look)) for wish in need.wishes]
    if len(rows) > _MOST_ROWS:
        said = ", ".join(f"{crop} {kg} ({area})" for crop, kg, area in rows)
        lines = wrap(f"Wishes, with the ground of each at most: {said}.", look.text_width, "", "  ")
    else:
        lines = table(_COLUMNS, rows, look)
    household, found = scenario.household, {wish.crop for wish in need.wishes}
    wished = [wish.crop for wish in household.targets] + [eats.crop for eats in household.eats]
    wished += [must.crop for must in household.must_have]
    lost = [say_crop(crop, scenario.words) for crop in dict.fromkeys(wished) if crop not in found]
    if lost:
        lines += wrap(f"No bed can bear {' and '.join(lost)} in its season.", look.text_width, "", "  ")
    return lines


def understood_page(scenario: Scenario, need: GroundNeed, closed: Iterable[ClosedGround], look: Look) -> str:
    """Return what was understood of a scenario: its wishes in kilograms, and which ground is closed to which crops."""
    lines = ["", *wishes_understood(scenario, need, look)]
    said = [*say_closed(scenario, closed)]
    if said:
        lines.append("")
    for one in said:
        lines += wrap(one, look.text_width, "", "  ")
    return "\n".join(lines) + "\n"


def _say_room(need: GroundNeed, look: Look) -> Iterator[str]:
    for ground in need.grounds:
        if 0 < ground.fullest_m2 <= ground.there_m2:
            where = "in open ground" if ground.cover == "open ground" else f"under {ground.cover}"
            yield (
                f"Together about {say_area(ground.fullest_m2, look)} at the fullest time, "
                f"and {say_area(ground.there_m2, look)} are there {where}."
            )
