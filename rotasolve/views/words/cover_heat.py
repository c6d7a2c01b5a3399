"""Summer heat under shut covers, in words: once for each cover."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.views.words.wording import TIED, say_degrees, say_number, say_short

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from rotasolve.domain.catalogue import Cover
    from rotasolve.relations.season.cover_heat import CoverHeat

_MOST_NAMES = 6


def say_cover_heats(covers: Iterable[Cover], heats: Sequence[CoverHeat]) -> list[str]:
    """Return a sentence for each cover that gets too hot for some crops."""
    return [_say(cover, here) for cover in covers if (here := [heat for heat in heats if heat.cover == cover.name])]


def _say(cover: Cover, heats: Sequence[CoverHeat]) -> str:
    hot = "; ".join(
        f"{_few(heat.crops)} ({say_degrees(heat.bears_c)}) from {say_short(heat.first)} to {say_short(heat.last)}"
        for heat in heats
    )
    gain = cover.day_gain
    sunny = "and more on sunny days"
    if gain is not None and gain.most > gain.usual:
        sunny = f"on sunny days up to {say_number(gain.most)} degC more than outside"
    text = (
        f"{cover.name}: Kept shut, it is hotter on a usual afternoon than these grow in: {hot}; it reaches "
        f"{say_degrees(heats[0].most_c)}, {sunny}. Open it in the morning or take it off, shade it, and grow what "
        "likes it cool elsewhere then."
    )
    return text.replace(" degC", f"{TIED}degC")


def _few(names: Sequence[str]) -> str:
    shown = ", ".join(names[:_MOST_NAMES])
    return f"{shown} and {len(names) - _MOST_NAMES} more" if len(names) > _MOST_NAMES else shown
