"""Few sensible plantings, in words."""

from __future__ import annotations

from rotasolve.goals.few_plantings import PlantingsCounted
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say
from rotasolve.views.words.wording import say_count


@say.register
def _(reached: PlantingsCounted, look: Look) -> str:
    each = reached.plantings / max(1, reached.beds) / reached.years
    return f"{say_count(reached.plantings, 'planting')}, {each:.1f} for each bed and year"
