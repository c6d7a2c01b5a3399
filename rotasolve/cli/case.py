"""What a command is about: a scenario with its catalogue and their garden, and a plan of it, each read or made once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from rotasolve.cli.inputs import find_scenario
from rotasolve.cli.terminal import warn

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.edits import WorkedOut
    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario
    from rotasolve.files.plans import PlanFile
    from rotasolve.relations.ground.garden import Garden


@dataclass(frozen=True)
class Case:
    """A scenario and the catalogue it was read with; ``word`` is the scenario's file, or a shipped one's name."""

    scenario: Scenario
    catalogue: Catalogue
    word: str = field(default="", kw_only=True)

    @cached_property
    def garden(self) -> Garden:
        """The garden of both, made when it is first asked for: ``check`` and ``show`` can do without."""
        from rotasolve.relations.ground.garden import make_garden

        return make_garden(self.scenario, self.catalogue)

    def with_plan(self, path: Path, lenient: bool = False) -> PlanCase:
        """Return the case with the plan of a file as it holds now, and say on stderr if it was edited by hand.

        ``lenient`` lets a plan of another scenario be as it is.

        Raises
        ------
        RotasolveError
            If the file is missing, is no plan, or names what the scenario does not have.
        """
        from rotasolve.domain.edits import edits_of
        from rotasolve.errors import InputFault
        from rotasolve.files.plan_checks import checked_plan
        from rotasolve.files.plans import read_plan
        from rotasolve.tasks.by_hand import take_up
        from rotasolve.views.pages.editing import say_edits

        file = read_plan(path)
        edits = edits_of(file.plan)
        whole = edits is not None and not edits.touched
        if whole and not mismatch(file.plan, self.scenario):
            return PlanCase(self.scenario, self.catalogue, self, file, file.plan, word=self.word)
        try:
            file = checked_plan(file, self.scenario, self.catalogue, any_years=edits is None or whole)
        except InputFault:
            if lenient and not file.left_out and (edits is None or whole):
                return PlanCase(self.scenario, self.catalogue, self, file, file.plan, word=self.word)
            raise
        plan, notes = take_up(self.garden, file.plan, file.left_out)
        said = say_edits(edits_of(plan), len(notes))
        if said:
            warn((f"{path}: {said}",))
        return PlanCase(self.scenario, self.catalogue, self, file, plan, notes, word=self.word)


@dataclass(frozen=True)
class PlanCase(Case):
    """A case with a plan: the file as it was read, the plan as it holds now, and what was worked out anew in it."""

    bare: Case
    file: PlanFile
    plan: Plan
    notes: tuple[WorkedOut, ...] = ()

    @cached_property
    def garden(self) -> Garden:
        """The garden; a GardenFault if the plan does not speak of the same beds, crops and years."""
        from rotasolve.tasks.refereeing import refuse_other_plan

        refuse_other_plan(self.bare.garden, self.plan)
        return self.bare.garden

    @cached_property
    def warnings(self) -> tuple[str, ...]:
        """A warning if the plan was made for another scenario, or before this one was changed."""
        return mismatch(self.plan, self.scenario)

    @property
    def matches(self) -> bool:
        """Whether the plan was made for the scenario as it is now."""
        return not self.warnings


def read_case(word: str, own_crops: Sequence[Path] | None) -> Case:
    """Return the case of a scenario, given as a file or by its shipped name.

    Raises
    ------
    RotasolveError
        If a file is missing or has faults.
    """
    from rotasolve.files.scenarios import read_with_catalogue

    return Case(*read_with_catalogue(find_scenario(word), tuple(own_crops or ())), word=word)


def mismatch(plan: Plan, scenario: Scenario) -> tuple[str, ...]:
    """Return a warning if the plan was made for another scenario, or before this one was changed."""
    from rotasolve.files.scenarios import scenario_hash

    if plan.scenario_hash == scenario_hash(scenario):
        return ()
    return ("the scenario is not the one the plan was made for, or it has been changed since.",)
