"""What a grower must be told beside a plan: about its crops and covers, and about the figures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.views.layout import wrap
from rotasolve.views.wording import sentence

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario
    from rotasolve.views.look import Look

_ALWAYS = (
    "Yields are estimates from published figures and frost dates are averages: watch the forecast and your own beds.",
    "Follow the rules that hold where you live, on plants, water, structures and anything you spray, "
    "and the label on the packet.",
)


def cautions_of(plan: Plan, catalogue: Catalogue, scenario: Scenario) -> tuple[str, ...]:
    """Return the cautions on a plan's crops and covers, each said once with all it is about, then the general ones."""
    about: dict[str, list[str]] = {}
    planted = {planting.crop for planting in plan.plantings}
    for crop in sorted(catalogue.crops, key=lambda crop: crop.name.casefold()):
        if crop.name in planted:
            for caution in crop.cautions:
                about.setdefault(caution, []).append(crop.name)
    used = {planting.bed for planting in plan.plantings}
    covers = {bed.cover for bed in scenario.beds if bed.name in used}
    for cover in catalogue.covers:
        if cover.name in covers and cover.caution:
            about.setdefault(cover.caution, []).append(cover.name)
    return (*(f"{', '.join(names)}: {sentence(text)}" for text, names in about.items()), *_ALWAYS)


def caution_list(plan: Plan, catalogue: Catalogue, scenario: Scenario, look: Look) -> list[str]:
    """Return the cautions as a list."""
    lines: list[str] = []
    for text in cautions_of(plan, catalogue, scenario):
        lines += wrap(f"- {text}", look.text_width, "", "  ")
    return lines
