"""What goes into the ground or into pots for a planting: seeds with the loss and spare they need, or counted pieces."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.strips import part_breadth_cm, strip_depth_cm

if TYPE_CHECKING:
    from rotasolve.domain.crop import Crop, Material
    from rotasolve.domain.plan import Planting
    from rotasolve.relations.ground.garden import Garden

SPARE = 0.2
"""A fifth more plants are raised, or seeds sown, than are to stand: slugs and weak ones; common practice, no source."""


@dataclass(frozen=True)
class Need:
    """What one planting needs: ``pieces`` of ``material``, ``raised`` plants in pots, ``grams`` of seed if known.

    ``pieces`` is None for seed sown broadcast, which is weighed, and ``grams`` None where no figure is known.
    """

    material: Material
    pieces: int | None
    grams: float | None
    raised: int


def material_of(crop: Crop, planting: Planting) -> Material:
    """Return what a planting of a crop is started from, by its way; seed if the crop does not know that way."""
    for start in crop.starts:
        if start.way == planting.way:
            return start.material
    return "seed"


def need_of(garden: Garden, planting: Planting) -> Need:
    """Return what a planting needs.

    Seeds: plants x (1 + spare) x seeds per plant / germination, rounded up; a raised plant has one seed less the seeds
    per plant, for it is sown singly. Sets, cloves, tubers and slips are counted as plants stand.
    """
    crop = garden.crops[planting.crop]
    material = material_of(crop, planting)
    raised = math.ceil(planting.plants * (1 + SPARE) - 1e-9) if planting.raise_from is not None else 0
    if material != "seed":
        return Need(material, planting.plants, None, 0)
    if crop.seed_rate is not None:
        return Need(material, None, round(crop.seed_rate.usual * ground_m2(garden, planting), 1), 0)
    share = 1.0 if crop.germination is None else crop.germination.usual / 100
    places = raised or planting.plants * (1 + SPARE)
    each = 1.0 if crop.seeds_per_place is None or raised else crop.seeds_per_place.usual
    seeds = math.ceil(places * each / share - 1e-9)
    grams = None if crop.seeds_per_gram is None else seeds / crop.seeds_per_gram.usual
    return Need(material, seeds, grams, raised)


def ground_m2(garden: Garden, planting: Planting) -> float:
    """Return the ground of a planting's strips in m2."""
    bed = garden.beds[planting.bed]
    return len(planting.strips) * strip_depth_cm(bed) * part_breadth_cm(bed) / 10_000
