"""How a bed is cut: into parts from west to east, and each part into strips across the north-south depth."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rotasolve.domain.bed import Bed

USUAL_DEPTH_CM = 60.0
"""Depth of a strip in cm when the grower gives none: one row of a large crop, two or three of a small one."""
FRAME_DEPTH_CM = 30.0
"""Depth of a strip in cm in a cold frame, which is seldom deeper than 120 cm."""
WIDEST_PART_CM = 300.0
"""A bed broader than this from west to east is cut into parts, so that a crop need not take its whole breadth."""
MOST_STRIPS_IN_BED = 80
MOST_STRIPS_IN_GARDEN = 1500

# Lengths are floats, and some come from feet and inches: 2.4 m / 0.6 m must count as 4 strips.
_ROUNDING = 1e-6


def strips_per_part(bed: Bed) -> int:
    """Return how many strips one part of the bed holds; 0 if the given strip is deeper than the bed."""
    if bed.strip is not None:
        return math.floor(bed.depth_cm / bed.strip + _ROUNDING)
    default = FRAME_DEPTH_CM if bed.cover == "cold frame" else USUAL_DEPTH_CM
    return max(1, round(bed.depth_cm / default))


def strip_depth_cm(bed: Bed) -> float:
    """Return the north-south depth of one strip in cm: as given, else an equal share of the bed."""
    return bed.strip if bed.strip is not None else bed.depth_cm / strips_per_part(bed)


def parts_of(bed: Bed) -> int:
    """Return how many parts the bed has from west to east: as given, else one per 3 m begun."""
    if bed.parts is not None:
        return bed.parts
    return max(1, math.ceil(bed.breadth_cm / WIDEST_PART_CM - _ROUNDING))


def strips_in_bed(bed: Bed) -> int:
    """Return how many strips the bed has in all its parts."""
    return strips_per_part(bed) * parts_of(bed)


def part_breadth_cm(bed: Bed) -> float:
    """Return the west-east breadth of one part in cm."""
    return bed.breadth_cm / parts_of(bed)


def say_runs(numbers: Iterable[int], dash: str = "-") -> str:
    """Say whole numbers as runs: ``1-3, 5``."""
    runs: list[list[int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]}{dash}{run[-1]}" if len(run) > 1 else str(run[0]) for run in runs)


def say_strips(strips: Iterable[int], dash: str = "-") -> str:
    """Say strip numbers as runs: ``strip 3``, ``strips 1-3, 5``."""
    said = say_runs(strips, dash)
    return f"strip {said}" if said.isdigit() else f"strips {said}"
