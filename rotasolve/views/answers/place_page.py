"""The answer to "where can it go?" as a page: places, best first, then the beds that will not do and why."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_day, say_year
from rotasolve.views.answers.place_list import place_list, say_notes
from rotasolve.views.answers.refusal_list import refusal_list
from rotasolve.views.words.layout import heading, wrap
from rotasolve.views.words.wording import TIED, clean, say_count, say_crop, say_number, sentence

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.place import Places, Question
    from rotasolve.domain.scenario import Scenario
    from rotasolve.views.words.look import Look


def places_page(
    scenario: Scenario,
    catalogue: Catalogue,
    found: Places,
    look: Look,
    *,
    beside_plan: bool = False,
    every: bool = False,
) -> str:
    """Return where a crop can go, and why not elsewhere.

    Parameters
    ----------
    beside_plan
        True if a plan was given that the crop goes beside. Default: only what the scenario fixes counts.
    every
        True lists every place and every reason. Default: the best of each bed and year, and a few reasons a rule.
    """
    south, asked = scenario.site.south, found.question
    lines = heading(clean(f"{scenario.title}: places for {say_question(asked, scenario)}"), look, "=")
    besides = "the plan and what grew before" if beside_plan else "what the scenario fixes and what grew before"
    lines += wrap(
        f"Asked beside {besides}. Best first: most harvest, family rested, least noon shade.", look.text_width
    )
    least = catalogue.crop(asked.crop).sun_hours_least
    if least is not None:
        hours = f"{say_number(least.usual)}{TIED}hours"
        lines += wrap(f"{sentence(asked.crop)[:-1]} wants {hours} of sun a day or more.", look.text_width)
    for note in say_notes(found):
        lines += wrap(f"Note: {sentence(note)}", look.text_width, "", "  ")
    if found.places:
        spots = {(place.planting.bed, place.planting.begins_in(south)) for place in found.places}
        beds = say_count(len({bed for bed, _ in spots}), "bed")
        said = f"{say_count(len(found.places), 'place')} in {beds}"
        lines += ["", *heading(said, look, "-"), *place_list(found.places, south, look, every)]
    else:
        lines += ["", *wrap(f"There is no place for {say_question(asked, scenario)}.", look.text_width)]
    if found.refusals:
        lines += ["", *heading("Beds that will not do, and what stands against them", look, "-")]
        lines += refusal_list(found.refusals, south, look, every)
    return "\n".join(lines) + "\n"


def say_question(asked: Question, scenario: Scenario) -> str:
    """Say what was asked: ``6 plants of sweet pepper, set out on 1 June 2027``."""
    south, years = scenario.site.south, scenario.planned_years
    crop = say_crop(asked.crop, scenario.words)
    what = f"{say_count(asked.plants, 'plant')} of {crop}" if asked.plants is not None else crop
    way = f", {asked.way}" if asked.way is not None else ""
    if asked.on is not None:
        return f"{what}{way or ', started'} on {say_day(asked.on)}"
    if asked.year is not None:
        return f"{what}{way} in {say_year(asked.year, south)}"
    span = dict.fromkeys([say_year(years[0], south), say_year(years[-1], south)])
    return f"{what}{way} in {' to '.join(span)}"
