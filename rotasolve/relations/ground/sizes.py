"""Which sizes of block are worth offering for a crop in a bed: none too small to be of use, none beyond the wish."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.strips import parts_of, strips_per_part
from rotasolve.relations.household.wanted import counted_kg
from rotasolve.relations.season.yields import expected_harvest

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.ground.blocks import Block

MOST_SIZES = 3
"""Sizes offered where a bed's strips are counted: enough to choose from, and few enough for a large garden."""

USEFUL = {"not at all": 0.0, "little": 0.05, "usual": 0.1, "much": 0.2, "whole beds": 0.0}
"""Share of a wish that a block must bring to be of use, by how much few plantings count. Common practice, no source:
what brings less is not worth a row of its own."""

FAR_BEYOND = 0.3
"""A wish so far beyond the bed that its largest block brings less of it counts as if it brought this share: blocks
from a third of the largest on are of use then, for others may share the bed. Common practice, no source."""

AMPLE = 1.1
"""A block that brings this much of a wish is the largest of use: what is wished every year is not grown twice over."""


def sizes_offered(scenario: Scenario, crop: Crop, bed: Bed, blocks: tuple[Block, ...], few: bool) -> tuple[Block, ...]:
    """Return the blocks worth offering, of all that a crop may take in a bed.

    Left out are blocks that bring less of a year's wish than is of use, and blocks larger than the smallest that meets
    the wish amply; ``few`` thins out the rest. All sizes are offered of what must be had.
    With ``few_plantings: whole beds`` nothing but the whole bed is offered.
    """
    household, how = scenario.household, scenario.rules.few_plantings
    if not blocks:
        return ()
    if how == "whole beds":
        whole = max(strips_per_part(bed), 1) * parts_of(bed)
        return tuple(block for block in blocks if block.strips == whole) or blocks[-1:]
    if any(must.crop in (crop.name, crop.kind_of) for must in household.must_have):
        return blocks
    found = list(blocks)
    wishes = [target for target in household.targets if crop.name in (target.crop, *target.kinds)]
    if wishes:
        brings = [counted_kg(expected_harvest(crop, block.plants, 100), household) for block in found]
        useful = USEFUL[how] * min(*(target.kg for target in wishes), max(brings) / FAR_BEYOND)
        ample = min((kg for kg in brings if kg >= AMPLE * max(target.kg for target in wishes)), default=max(brings))
        found = [block for block, kg in zip(found, brings, strict=True) if useful <= kg <= ample]
    return tuple(_thinned(found) if few else found)


def _thinned(blocks: list[Block]) -> list[Block]:
    """Return at most so many blocks as may be offered: the smallest, the largest, and those a like step apart."""
    if len(blocks) <= MOST_SIZES:
        return blocks
    least, most = blocks[0].plants, blocks[-1].plants
    wished = [least * (most / least) ** (step / (MOST_SIZES - 1)) for step in range(MOST_SIZES)]
    nearest = {min(blocks, key=lambda block: abs(block.plants - plants)) for plants in wished}
    return [block for block in blocks if block in nearest]
