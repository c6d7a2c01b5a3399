"""What the wishes come to: kilograms and ground for each, said while they are asked for and by ``check``."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.views.words.ground_need import say_need
from rotasolve.views.words.layout import Column, table, wrap
from rotasolve.views.words.summary import say_area
from rotasolve.views.words.wording import say_crop, say_kg

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rotasolve.domain.ground_need import GroundNeed
    from rotasolve.domain.scenario import Scenario
    from rotasolve.views.words.look import Look

_COLUMNS = (Column("Crop"), Column("kg a year", number=True), Column("Ground at most", number=True))


def wish_lines(scenario: Scenario, need: GroundNeed, look: Look) -> list[str]:
    """Return a row for each wish with its kilograms and its ground, then the ground needed and there.

    What no bed of the garden can bear is named, for no ground is reckoned for it.
    """
    rows = [(say_crop(wish.crop, scenario.words), say_kg(wish.kg), say_area(wish.m2, look)) for wish in need.wishes]
    lines = table(_COLUMNS, rows, look)
    for said in _say_whole(need, look):
        lines += wrap(said, look.text_width, "", "  ")
    return lines


def _say_whole(need: GroundNeed, look: Look) -> Iterator[str]:
    for ground in need.grounds:
        if ground.fullest_m2 and not ground.fullest_m2 > ground.there_m2:
            where = "in open ground" if ground.cover == "open ground" else f"under {ground.cover}"
            yield (
                f"Together about {say_area(ground.fullest_m2, look)} at the fullest time, "
                f"and {say_area(ground.there_m2, look)} are there {where}."
            )
    yield from say_need(need, look)
