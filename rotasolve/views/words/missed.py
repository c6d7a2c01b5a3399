"""Why wishes are missed, in words: crops for which the same holds are said together."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.missed import ROOM_LEFT
from rotasolve.views.words.titles import title_of
from rotasolve.views.words.wishes import say_hopeless
from rotasolve.views.words.wording import say_crop, sentence

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from rotasolve.domain.missed import Missed
    from rotasolve.views.words.look import Look

_WHY = {
    ROOM_LEFT: "a little more would fit: it brings less than it costs, or a longer search would place it",
    "free-ground": "other crops have the ground at that time",
    "rest": "in most beds that would do, the same family comes too soon before or after",
    "family-once": "the same family has that ground in the same season already",
    "season-window": "out of season where ground is free",
    "pole-side": "too tall or too low for their neighbours: one would shade the other",
    "bed-shadows": "too tall or too low beside the next bed: one would shade the other",
    "least-sun": "too little sun where ground is free",
    "closed-bed": "the beds that would do are closed",
}


def say_missed(missed: Iterable[Missed], words: Mapping[str, str], look: Look) -> Iterator[str]:
    """Say why wishes are missed, one sentence for each reason; ``words`` are the grower's own for crops."""
    alike: dict[str, list[str]] = {}
    for one in missed:
        if one.hopeless is not None:
            yield sentence(say_hopeless(one.hopeless, look))
        else:
            alike.setdefault(one.why, []).append(say_crop(one.crop, words))
    for why, crops in alike.items():
        yield f"{sentence(', '.join(crops))[:-1]}: {_WHY.get(why, title_of(why))}."
