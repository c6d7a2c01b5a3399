"""What ``plan --from`` reads: an earlier plan, perhaps edited by hand, and which of its plantings are kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import typer

from rotasolve.cli.case import mismatch
from rotasolve.cli.inputs import find_crop, read_day
from rotasolve.errors import GardenFault

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.cli.case import Case
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.plan import Plan
    from rotasolve.tasks.replanning import Keep

WORDS = ("changed", "all", "nothing")


@dataclass(frozen=True)
class Asked:
    """The options of ``plan --from`` as they were typed; ``rolled_on``: years gone by are in the scenario's history."""

    earlier: Path | None
    keep: Sequence[str]
    as_of: str | None
    failed: Sequence[str]
    rolled_on: bool = False

    def refuse_alone(self) -> None:
        """Refuse, as bad parameters, options that mean nothing without an earlier plan, or not together."""
        if self.earlier is None and (self.keep or self.as_of or self.failed):
            given = "--keep" if self.keep else "--as-of" if self.as_of else "--failed"
            raise typer.BadParameter(f"{given} speaks of an earlier plan: give the plan with --from")
        if "nothing" in self.keep and len(self.keep) > 1:
            raise typer.BadParameter("--keep nothing cannot stand beside another --keep")
        if self.failed and self.as_of is None:
            raise typer.BadParameter("--failed needs the day on which the crop failed: give it with --as-of")


class Earlier(NamedTuple):
    """An earlier plan, what is kept of it, and notes on what of it was left out or worked out anew."""

    plan: Plan
    keep: Keep
    notes: tuple[str, ...]


def read_earlier(asked: Asked, case: Case) -> Earlier:
    """Return the earlier plan as far as it makes sense in the scenario, with what is kept of it.

    Raises
    ------
    RotasolveError
        If the file or one of the options cannot be used.
    """
    from rotasolve.domain.edits import edits_of
    from rotasolve.files.plan_checks import checked_plan, sensible_part
    from rotasolve.files.plans import read_plan
    from rotasolve.referee import recount
    from rotasolve.tasks.by_hand import take_up
    from rotasolve.views.pages.editing import say_edits
    from rotasolve.views.words.worked_out import say_worked_out

    assert asked.earlier is not None  # the command asks for nothing else
    scenario, catalogue = case.scenario, case.catalogue
    file, notes = read_plan(asked.earlier), []
    other = mismatch(file.plan, scenario)
    if other:
        file, told = sensible_part(file, scenario, catalogue)
        if not asked.rolled_on:
            notes += ["the scenario is not the one the earlier plan was made for, or it has been changed since.", *told]
    else:
        file = checked_plan(file, scenario, catalogue)
    edited = say_edits(edits_of(file.plan)) if not other else ""
    plan, worked_out = take_up(case.garden, file.plan, file.left_out)
    if other:  # its points were counted for other wishes
        plan = recount(case.garden, plan)
    notes += [f"{asked.earlier}: {edited}"] if edited else []
    notes += [f"worked out anew, {say_worked_out(note)}" for note in worked_out]
    return Earlier(plan, _keep(asked, plan, case), tuple(notes))


def _keep(asked: Asked, plan: Plan, case: Case) -> Keep:
    from rotasolve.tasks.replanning import Keep

    beds, crops = set(), set()
    for word in asked.keep:
        if word in WORDS:
            continue
        if word in {bed.name for bed in case.scenario.beds}:
            beds.add(word)
        else:
            crops.add(_crop_to_keep(word, plan, case))
    day = None if asked.as_of is None else read_day(asked.as_of, "--as-of", case.scenario.begins)
    return Keep(
        changed=not asked.keep or "changed" in asked.keep,
        everything="all" in asked.keep,
        beds=frozenset(beds),
        crops=frozenset(crops),
        as_of=day,
        failed=frozenset(number for words in asked.failed for number in _failed(words, plan, case.catalogue, day)),
    )


def _crop_to_keep(word: str, plan: Plan, case: Case) -> str:
    from rotasolve.files.wording import did_you_mean

    try:
        crop = find_crop(word, case.catalogue)
    except GardenFault:
        beds, crops = (bed.name for bed in case.scenario.beds), (crop.name for crop in case.catalogue.crops)
        hint = did_you_mean(word, [*WORDS, *beds, *crops])
        raise GardenFault(
            f"--keep takes changed, all, nothing, or a bed or a crop, not '{word}'" + (f"; {hint}" if hint else "")
        ) from None
    if all(planting.crop != crop for planting in plan.plantings):
        raise GardenFault(f"there is no {crop} in the earlier plan to keep")
    return crop


def _failed(words: str, plan: Plan, catalogue: Catalogue, day: date | None) -> list[int]:
    """Return the numbers of the plantings that ``CROP`` or ``CROP in BED`` names and that stand on a day."""
    from rotasolve.domain.seasons import say_day

    crop_words, _, bed = words.partition(" in ")
    crop = find_crop(crop_words, catalogue)
    found = [
        number
        for number, planting in enumerate(plan.plantings)
        if planting.crop == crop
        and bed in ("", planting.bed)
        and day is not None
        and planting.start <= day <= planting.clear
    ]
    if not found:
        where, when = f" in {bed}" if bed else "", say_day(day) if day is not None else "no day"
        raise GardenFault(f"--failed: no {crop}{where} is in the ground on {when}")
    return found
