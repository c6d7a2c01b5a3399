"""Few changes against an earlier plan, in words."""

from __future__ import annotations

from rotasolve.goals.few_changes import PlantingsChanged
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say
from rotasolve.views.words.wording import say_count


@say.register
def _(reached: PlantingsChanged, look: Look) -> str:
    return f"{reached.changed} of {say_count(reached.plantings, 'planting')} of the earlier plan changed"
