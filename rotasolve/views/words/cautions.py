"""What a grower must be told beside a plan: about its crops and covers, and about the figures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_day
from rotasolve.relations.ground.crop_shares import quick_kinds
from rotasolve.relations.season.cover_heat import heats_of
from rotasolve.relations.season.frost_warnings import early_start
from rotasolve.views.words.cover_heat import say_cover_heats
from rotasolve.views.words.crop_shares import say_quick_kinds
from rotasolve.views.words.estimates import say_estimate
from rotasolve.views.words.layout import wrap
from rotasolve.views.words.own_yields import say_own_yields
from rotasolve.views.words.wording import sentence

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario
    from rotasolve.domain.supply import CropSupply
    from rotasolve.views.words.look import Look

_MANURE = (
    "Raw manure carries germs that make people ill. 120 days to a harvest that touches the soil and 90 to any other "
    "are the rule of 7 CFR 205.203; British guidance for what is eaten raw has asked for 6 and for 12 months. Ask your "
    "food-safety authority, wash hands and tools, and keep it off what is eaten raw this season."
)
_ALWAYS = (
    "Yields are estimates from published figures and frost dates are averages: watch the forecast and your own beds.",
    "Follow the rules that hold where you live, on plants, water, structures and anything you spray, "
    "and the label on the packet.",
)

_KEEPING = (
    "Keep only sound produce. Low-acid food (all vegetables, tomatoes too unless acid is added) can carry botulism "
    "when it is put up in jars: use tested recipes and a pressure canner, and follow the current guidance of your "
    "food-safety authority before anything written here.",
    "How long a crop keeps is a published figure for the best temperature and humidity; look through your store often.",
)


def supply_cautions(supplies: Iterable[CropSupply], catalogue: Catalogue) -> tuple[str, ...]:
    """Return the cautions on keeping, those of the crops that are kept, and that yields are estimates."""
    kept = {supply.crop for supply in supplies if supply.total("kept_g")}
    return (*keeping_cautions(kept, catalogue), _ALWAYS[0]) if kept else (_ALWAYS[0],)


def keeping_cautions(crops: Collection[str], catalogue: Catalogue) -> tuple[str, ...]:
    """Return the cautions on keeping some crops, each said once with all it is about, then the general ones."""
    return (*_of_crops(crops, catalogue), *_KEEPING) if crops else ()


def _of_crops(names: Collection[str], catalogue: Catalogue) -> list[str]:
    about: dict[str, list[str]] = {}
    for crop in sorted(catalogue.crops, key=lambda crop: crop.name.casefold()):
        for caution in crop.cautions if crop.name in names else ():
            about.setdefault(caution, []).append(crop.name)
    return [f"{', '.join(crops)}: {sentence(text)}" for text, crops in about.items()]


def cautions_of(plan: Plan, catalogue: Catalogue, scenario: Scenario) -> tuple[str, ...]:
    """Return the cautions on a plan's crops and covers, each said once with all it is about, then the general ones."""
    of_crops = _of_crops({planting.crop for planting in plan.plantings}, catalogue)
    about: dict[str, list[str]] = {}
    used = {planting.bed for planting in plan.plantings}
    covers = {bed.cover for bed in scenario.beds if bed.name in used}
    for cover in catalogue.covers:
        if cover.name in covers and cover.caution:
            about.setdefault(cover.caution, []).append(cover.name)
    of_covers = [f"{', '.join(names)}: {sentence(text)}" for text, names in about.items()]
    keeping = _KEEPING if any(outcome.keep_kg for outcome in plan.targets) else ()
    fed = any(crop.feeder == "heavy" for crop in catalogue.crops if crop.name in {p.crop for p in plan.plantings})
    manure = (_MANURE,) if scenario.manure or fed else ()
    estimate = tuple(f"Climate: {text}." for text in (say_estimate(scenario.site),) if text)
    hot = say_cover_heats(catalogue.covers, heats_of(plan.plantings, scenario, catalogue))
    early = _early_starts(plan, catalogue, scenario)
    quick = say_quick_kinds(quick_kinds(plan.plantings, scenario, catalogue))
    weighed = say_own_yields(scenario, {planting.crop for planting in plan.plantings})
    own = (*hot, *early, *([quick] if quick else ()), *([weighed] if weighed else ()))
    return (*of_crops, *of_covers, *own, *keeping, *manure, *estimate, *_ALWAYS)


def _early_starts(plan: Plan, catalogue: Catalogue, scenario: Scenario) -> tuple[str, ...]:
    """Return one caution on all tender crops that the plan starts before the last frost of one year in two."""
    beds = {bed.name: bed for bed in scenario.beds}
    crops = {crop.name: crop for crop in catalogue.crops}
    early: dict[str, None] = {}
    for planting in plan.plantings:
        if planting.bed in beds and planting.crop in crops:
            cover = catalogue.cover(beds[planting.bed].cover)
            if early_start(crops[planting.crop], planting.start, cover, scenario.site) is not None:
                early[f"{planting.crop} in {planting.bed} on {say_day(planting.start)}"] = None
    if not early:
        return ()
    what = "Started before the last frost of one year in two, and killed by frost"
    return (f"{what}: {', '.join(early)}. Watch the forecast, cover on clear nights, and keep spare plants.",)


def caution_list(plan: Plan, catalogue: Catalogue, scenario: Scenario, look: Look) -> list[str]:
    """Return the cautions as a list."""
    lines: list[str] = []
    for text in cautions_of(plan, catalogue, scenario):
        lines += wrap(f"- {text}", look.text_width, "", "  ")
    return lines
