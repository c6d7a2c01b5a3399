"""What a diary tells, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_day
from rotasolve.domain.strips import say_strips
from rotasolve.views.words.wording import TIED, clean, say_count, say_kg, say_number

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rotasolve.domain.diary import Happening


def say_happening(told: Happening) -> str:
    """Say what happened without its day: ``picked 1.2 kg tomato in gate bed, strips 1-3 (the first ones)``."""
    said = f"{told.kind} {' '.join(_things(told))}".strip()
    if told.bed is not None:
        said += f" {told.bed}" if said == told.kind else f" in {told.bed}"
    if told.strips:
        said += f", {say_strips(told.strips)}"
    if told.until is not None:
        said += f" until {say_day(told.until)}"
    if told.note:
        said += f" ({told.note})" if said != "noted" else f": {told.note}"
    return clean(said)


def _things(told: Happening) -> Iterator[str]:
    if told.kg is not None:
        yield say_kg(told.kg)
    if told.degrees_c is not None:
        yield f"{say_number(told.degrees_c)}{TIED}degrees{TIED}C"
    if told.trouble is not None:
        yield told.trouble + (f" on {told.crop}" if told.crop is not None else "")
    elif told.crop is not None:
        yield f"{say_count(told.plants, 'plant')} of {told.crop}" if told.plants is not None else told.crop
