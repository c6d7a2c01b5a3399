"""Room made for a crop, before and after: ways to make it, what each moves, and what it costs in kg and points."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_day, say_year
from rotasolve.views.answers.place_list import say_days, say_harvest, say_plants, say_where
from rotasolve.views.answers.place_page import say_question
from rotasolve.views.words.crop_shares import say_crop_share
from rotasolve.views.words.layout import Column, heading, table, wrap
from rotasolve.views.words.more_or_less import say_harvest_between
from rotasolve.views.words.wording import clean, say_count, sentence

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from rotasolve.domain.moves import Move, Room
    from rotasolve.domain.place import Question
    from rotasolve.domain.plan import Planting
    from rotasolve.domain.scenario import Scenario
    from rotasolve.views.words.look import Look

_COLUMNS = (Column("Crop"), Column("What changes"), Column("Before"), Column("After"))


def room_page(scenario: Scenario, ways: Sequence[Room], today: date, look: Look) -> str:
    """Return the changes of a plan that make room for a crop, each a way of its own.

    Parameters
    ----------
    today
        The day up to which everything started was kept where it is.
    """
    south = scenario.site.south
    lines = heading(clean(f"{scenario.title}: room for {say_question(ways[0].question, scenario)}"), look, "=")
    for number, room in enumerate(ways, start=1):
        if len(ways) > 1:
            lines += heading(f"Way {number} of {len(ways)}", look)
        lines += [*_way(room, south, look), ""]
    lines += wrap(sentence(f"Nothing started on or before {say_day(today)} is changed"), look.text_width)
    return "\n".join(lines) + "\n"


def _way(room: Room, south: bool, look: Look) -> list[str]:
    new, lines = room.placed, list[str]()
    lines += wrap(f"New: {new.crop} in {say_place_and_days(new, south, look)}", look.text_width, "", "  ")
    if say_harvest(new):
        lines += wrap(sentence(say_harvest(new)), look.text_width, "  ")
    if room.crop_share is not None:
        lines += wrap(sentence(say_crop_share(room.crop_share, new.way)), look.text_width, "  ")
    lines.append("")
    if room.moves:
        lines += heading(f"{say_count(len(room.moves), 'planting')} changed", look, "-")
        lines += [*table(_COLUMNS, [_row(move, south, look) for move in room.moves], look), ""]
    for fact in (_say_fewest(room), say_harvest_between(room.harvest), _say_points(room)):
        lines += wrap(sentence(fact), look.text_width)
    return lines


def no_room_page(scenario: Scenario, asked: Question, today: date, look: Look) -> str:
    """Return that no room can be made, and what to try instead."""
    lines = heading(clean(f"{scenario.title}: room for {say_question(asked, scenario)}"), look, "=")
    lines += wrap(
        f"No way was found to make room by changing what is started after {say_day(today)} and not fixed by you. "
        "Ask without --move to see what stands against each bed, for fewer plants, or for another year.",
        look.text_width,
    )
    return "\n".join(lines) + "\n"


def say_change(move: Move) -> str:
    """Say what becomes of a planting: ``moved``, ``cut back`` or ``given up``."""
    if move.after is None:
        return "given up"
    return "cut back" if move.after.plants < move.before.plants else "moved"


def _row(move: Move, south: bool, look: Look) -> tuple[str, ...]:
    after = say_place_and_days(move.after, south, look) if move.after is not None else "nothing"
    return move.before.crop, say_change(move), say_place_and_days(move.before, south, look), after


def say_place_and_days(planting: Planting, south: bool, look: Look) -> str:
    """Say where a planting stands, in which year, how many plants it has, and its days."""
    year = say_year(planting.begins_in(south), south)
    return f"{say_where(planting, look)}, {year}: {say_plants(planting)}, {say_days(planting, south, look)}"


def _say_fewest(room: Room) -> str:
    if not room.moves:
        return "There is room already: nothing has to change"
    fewest = f"no change could touch fewer than {say_count(room.at_least, 'planting')}"
    if room.proven:
        return f"{fewest}, and this one touches no more"
    return f"{fewest}; this one touches {len(room.moves)}, and whether fewer would do is not known"


def _say_points(room: Room) -> str:
    told = f"the plan loses {say_count(room.lost_after, 'point')}, before the change {room.lost_before:,}"
    return f"{told} (fewer is better)"
