"""What follows from a line of a diary: chances to start something else after a failure, rest after a disease."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rotasolve.cli.resow import chances_on

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.cli.case import Case
    from rotasolve.domain.chance import Chance, DiseaseCost
    from rotasolve.domain.diary import Happening
    from rotasolve.domain.plan import Plan
    from rotasolve.views.words.look import Look


@dataclass(frozen=True)
class Follows:
    """What follows: chances on some ground from a day on, or what a disease costs; nothing of most lines."""

    south: bool
    ground: tuple[str, tuple[int, ...], date] | None = None
    chances: tuple[Chance, ...] = ()
    disease: DiseaseCost | None = None

    def lines(self, look: Look) -> list[str]:
        """Return it as lines of a page."""
        from rotasolve.views.answers.resow_page import resow_page
        from rotasolve.views.words.chances import say_disease
        from rotasolve.views.words.layout import wrap

        if self.ground is not None:
            return ["", *resow_page(self.chances, *self.ground, look).splitlines()]
        if self.disease is not None:
            told = say_disease(self.disease, self.south)
            return ["", *(line for said in told for line in wrap(said, look.text_width))]
        return []

    def answer(self) -> dict[str, Any]:
        """Return it for programs."""
        from rotasolve.views.answers.resow_page import disease_answer, resow_answer

        if self.ground is not None:
            return {"resow": resow_answer(self.chances, *self.ground)}
        return {"disease": disease_answer(self.disease)} if self.disease is not None else {}


def what_follows(case: Case, told: Happening, path: Path | None) -> Follows:
    """Return what follows from a line, beside the plan of a file if one is given."""
    from rotasolve.relations.ground.diary_records import rest_is_published
    from rotasolve.tasks.disease_seen import disease_cost

    south, bed = case.scenario.site.south, told.bed
    if bed is None or told.kind not in ("failed", "disease seen"):
        return Follows(south)
    plan = case.with_plan(path).plan if path is not None else None
    if told.kind == "failed":
        strips = told.strips or _strips_of_crop(case, told, plan)
        crops = [told.crop] if told.crop is not None else []
        found = chances_on(case, plan, bed, strips, told.day, crops)
        return Follows(south, (bed, strips, told.day), found)
    if told.trouble is None or not rest_is_published(told.trouble, case.catalogue):
        return Follows(south)
    cost = disease_cost(case.scenario, case.catalogue, plan, told.trouble, bed, told.day)
    return Follows(south, disease=cost)


def _strips_of_crop(case: Case, told: Happening, plan: Plan | None) -> tuple[int, ...]:
    """Return the strips on which a plan has the crop that a line speaks of; all of the bed if it has none."""
    from rotasolve.domain.diary import Diary
    from rotasolve.relations.ground.happened import happened_to
    from rotasolve.relations.ground.plantings import strips_of

    spoken_of = happened_to(plan.plantings, Diary((told,)))[0] if plan is not None else ()
    strips = {strip for one in spoken_of if one.told for strip in one.planting.strips}
    return tuple(sorted(strips)) or strips_of(next(bed for bed in case.scenario.beds if bed.name == told.bed))
