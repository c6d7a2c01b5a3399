"""Wishes out of reach, in words: why no bed can meet them, what would help, and what holds them back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.views.words.wording import say_count, say_length

if TYPE_CHECKING:
    from rotasolve.domain.shortfall import Gain, GainKind, Hopeless, Shortfall
    from rotasolve.views.words.look import Look

_HELD_BY: dict[GainKind, str] = {
    "more in the same beds": "nothing but other wishes: there is room for {kg} more in free strips",
    "no order of heights": "the order of heights: without it {kg} more would fit",
    "one year less rest": "the rest of its family: with {what}, {kg} more would fit",
    "a cover": "the season: {what} would give {kg} more",
    "one more metre": "the ground: {what} would give {kg} more",
    "one more bed": "the ground: {what} would give {kg} more",
}


_GROUND: tuple[GainKind, ...] = ("one more metre", "one more bed")
_MOST_STANDING = 3


def _say_standing(short: Shortfall) -> str:
    """Say which crops hold the ground, green manures apart; nothing if none does."""
    told = ", ".join(short.standing[:_MOST_STANDING])
    if told and len(short.standing) > _MOST_STANDING:
        told += f" and {len(short.standing) - _MOST_STANDING} more"
    if short.green_manures:
        manures = ", ".join(short.green_manures[:_MOST_STANDING])
        told += f"{', and ' if told else ''}{manures} as green manure"
    return f"; there stand {told}" if told else ""


def say_hopeless(wish: Hopeless, look: Look) -> str:
    """Say why no bed can meet a wish."""
    if wish.needs is None:
        return (
            f"{wish.crop} is never in season in a bed it fits: with these frost dates there is no start from which it "
            "ripens in the years planned; a cover over a bed would lengthen the season"
        )
    plants, rows = say_length(wish.needs.in_row_cm, look), say_length(wish.needs.between_rows_cm, look)
    least = wish.needs.least_rows
    block = f" and a block of at least {least} rows" if least > 1 else ""
    return f"{wish.crop} fits into no bed: it needs {plants} in the row, {rows} between rows{block}"


def say_gain(gain: Gain, look: Look) -> str:
    """Say which change gives a gain."""
    if gain.kind == "more in the same beds":
        return "more of it in free strips"
    if gain.rest_years is not None:
        return f"{say_count(gain.rest_years, 'complete year')} of rest instead of {gain.rest_years + 1}"
    if gain.cover is not None:
        return f"a {gain.cover} over {gain.bed}"
    if gain.length_cm is not None and gain.width_cm is not None:
        return f"one more bed, {say_length(gain.length_cm, look)} by {say_length(gain.width_cm, look)}, in open ground"
    return gain.kind


def say_held_by(short: Shortfall, look: Look) -> str:
    """Say what holds a target back most: what the change that gives most would loosen."""
    best = short.gains[0] if short.gains else None
    if best is not None and best.kg:
        said = _HELD_BY[best.kind].format(what=say_gain(best, look), kg=f"{best.kg:g} kg")
        return f"{said}{_say_standing(short)}" if best.kind in _GROUND else said
    if short.hopeless is not None:
        return say_hopeless(short.hopeless, look)
    return "nothing tried here would give more"
