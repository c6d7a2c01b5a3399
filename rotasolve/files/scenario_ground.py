"""The ground in a scenario: strips that fit their beds, a garden that can be solved, beds that do not overlap."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.measures import say_metric
from rotasolve.domain.strips import MOST_STRIPS_IN_BED, MOST_STRIPS_IN_GARDEN, strips_in_bed, strips_per_part
from rotasolve.files.document import quoted

if TYPE_CHECKING:
    from rotasolve.domain.bed import Bed
    from rotasolve.files.document import KeyPath
    from rotasolve.files.scenario_checks import ScenarioCheck

_TOUCH_CM = 0.5
"""Beds may touch; rounding of lengths in feet may let them seem to overlap by less than this."""


def check_ground(check: ScenarioCheck) -> None:
    """Check strips and positions of the beds, and the strips named in history and pinned plantings."""
    _strips_fit(check)
    _named_strips_exist(check)
    _positions_whole(check)
    _beds_apart(check)
    _obstacles_named_once(check)


def _strips_fit(check: ScenarioCheck) -> None:
    in_garden = 0
    for index, bed in enumerate(check.scenario.beds):
        path: KeyPath = ("beds", index)
        if bed.strip is not None and strips_per_part(bed) < 1:
            what = (
                f"a strip of {say_metric(bed.strip)} is deeper than the bed, {say_metric(bed.depth_cm)} north to south"
            )
            check.refuse((*path, "strip"), what, "choose a strip that fits, or leave it out")
            continue
        strips = strips_in_bed(bed)
        in_garden += strips
        if strips > MOST_STRIPS_IN_BED:
            what = f"bed {quoted(bed.name)} is cut into {strips} strips; at most {MOST_STRIPS_IN_BED} can be planned"
            blame = next((key for key in ("strip", "parts") if getattr(bed, key) is not None), "name")
            check.refuse((*path, blame), what, "choose deeper strips or fewer parts, such as strip: 1.2 m")
    if in_garden > MOST_STRIPS_IN_GARDEN:
        what = f"the garden is cut into {in_garden} strips; at most {MOST_STRIPS_IN_GARDEN} can be planned"
        check.faults.append(check.document.key_fault(("beds",), what, "choose deeper strips, or plan it in two files"))


def _named_strips_exist(check: ScenarioCheck) -> None:
    beds = {bed.name: bed for bed in check.scenario.beds}
    scenario = check.scenario
    named = [
        *((("history", index, "strips"), past.bed, past.strips) for index, past in enumerate(scenario.history)),
        *((("pinned", index, "strips"), pin.bed, pin.strips) for index, pin in enumerate(scenario.pinned)),
        *((("standing", index, "strips"), one.bed, one.strips) for index, one in enumerate(scenario.standing)),
    ]
    for path, bed_name, strips in named:
        bed = beds.get(bed_name)
        if bed is None:
            continue
        most = strips_in_bed(bed)
        for nth, strip in enumerate(strips):
            if strip > most > 0:
                check.refuse((*path, nth), f"bed {quoted(bed.name)} has strips 1 to {most}, not {strip}")
            elif strip in strips[:nth]:
                check.refuse((*path, nth), f"strip {strip} is named twice", "name each strip once")


def _positions_whole(check: ScenarioCheck) -> None:
    for index, bed in enumerate(check.scenario.beds):
        if (bed.east is None) != (bed.north is None):
            given, lost = ("east", "north") if bed.north is None else ("north", "east")
            fault = check.document.key_fault(
                ("beds", index, given),
                f"bed {quoted(bed.name)} has {given} but no {lost}",
                f"add {lost}, or take {given} out",
            )
            check.faults.append(fault)


def _beds_apart(check: ScenarioCheck) -> None:
    beds = check.scenario.beds
    for index, bed in enumerate(beds):
        for other in beds[:index]:
            if _overlap(bed, other):
                what = f"bed {quoted(bed.name)} lies partly on bed {quoted(other.name)}"
                mend = "check east, north, length, width and runs; a position is the bed's south-west corner"
                check.faults.append(check.document.key_fault(("beds", index, "east"), what, mend))


def _overlap(bed: Bed, other: Bed) -> bool:
    """Return whether two placed beds share ground."""
    if bed.east is None or bed.north is None or other.east is None or other.north is None:
        return False
    across = min(bed.east + bed.breadth_cm, other.east + other.breadth_cm) - max(bed.east, other.east)
    along = min(bed.north + bed.depth_cm, other.north + other.depth_cm) - max(bed.north, other.north)
    return across > _TOUCH_CM and along > _TOUCH_CM


def _obstacles_named_once(check: ScenarioCheck) -> None:
    """Refuse a name that two obstacles, or an obstacle and a bed, share: it could not be told what casts a shadow."""
    taken = {bed.name.casefold(): "a bed" for bed in check.scenario.beds}
    for index, obstacle in enumerate(check.scenario.obstacles):
        other = taken.setdefault(obstacle.name.casefold(), f"obstacle {index + 1}")
        if other != f"obstacle {index + 1}":
            what = f"{other} is called {quoted(obstacle.name)} already"
            check.refuse(("obstacles", index, "name"), what, "give each bed and obstacle its own name")
