"""Why wishes are missed, in words: crops for which the same holds are said together."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.missed import ROOM_LEFT
from rotasolve.views.words.titles import title_of
from rotasolve.views.words.wishes import say_hopeless
from rotasolve.views.words.wording import sentence

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rotasolve.domain.missed import Missed
    from rotasolve.views.words.look import Look

_WHY = {
    ROOM_LEFT: "a little more would fit, but so small or late a planting brings less than it costs",
    "free-ground": "when it could grow, other crops have the ground",
    "rest": "where ground is free, its family must rest longer",
    "family-once": "its family has been in that ground in the same season",
    "season-window": "where ground is free, it is out of season",
    "pole-side": "it would shade lower crops, or stand in the shade of taller ones",
    "bed-shadows": "it would shade lower crops in the next bed, or be shaded from there",
    "least-sun": "where ground is free, it gets too little sun",
    "closed-bed": "the beds that would do are closed",
}


def say_missed(missed: Iterable[Missed], look: Look) -> Iterator[str]:
    """Say why wishes are missed, one sentence for each reason."""
    alike: dict[str, list[str]] = {}
    for one in missed:
        if one.hopeless is not None:
            yield sentence(say_hopeless(one.hopeless, look))
        else:
            alike.setdefault(one.why, []).append(one.crop)
    for why, crops in alike.items():
        yield f"{sentence(', '.join(crops))[:-1]}: {_WHY.get(why, title_of(why))}."
