"""How tall crops are, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.views.words.wording import say_whole_cm

if TYPE_CHECKING:
    from rotasolve.relations.ground.height_order import Stature
    from rotasolve.views.words.look import Look

HEIGHT_CLASSES = ("low", "middle", "tall")


def say_stature(stature: Stature, look: Look) -> str:
    """Say a crop's height class and its height: ``tall, 200 cm``."""
    return f"{HEIGHT_CLASSES[stature.height_class]}, {say_whole_cm(stature.height_cm, look)}"


def say_in_order(tall: Stature, low: Stature, look: Look) -> str:
    """Say that one crop stands on the equator side of a lower one."""
    above, below = (f"{one.crop} ({say_stature(one, look)})" for one in (tall, low))
    return f"{above} on the sunny side of {below}"
