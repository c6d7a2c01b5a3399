"""``rotasolve crops``: the crops that are known, and one crop in full."""

from __future__ import annotations

from typing import Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import find_crop
from rotasolve.cli.options import AsJson, Inches, OwnCrops, Whole
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal

HELP = """List the crops that are known, or show all that is known of one, with the source of every figure.

Examples:

\b
  rotasolve crops
  rotasolve crops tomato
  rotasolve crops "sweet corn" --inches
  rotasolve crops tomato --in garden.yaml          with the own figures of the scenario
"""


@guarded
def crops(
    name: Annotated[str | None, typer.Argument(metavar="NAME", help="A crop.", show_default=False)] = None,
    garden: Annotated[
        str | None, typer.Option("--in", metavar="SCENARIO", help="With the own figures of this garden.")
    ] = None,
    own_crops: OwnCrops = None,
    details: Whole = False,
    json: AsJson = False,
    inches: Inches = False,
) -> int:
    """List crops or show one."""
    from rotasolve.domain.scenario import Words
    from rotasolve.files.crops import load_catalogue
    from rotasolve.relations.season.own_yields import OwnYield, own_yields, with_own_yields
    from rotasolve.views.exports.as_json import crops_answer
    from rotasolve.views.pages.crop_card import crop_card, crop_list

    published = catalogue = load_catalogue(tuple(own_crops or ()))
    own, changed = dict[str, OwnYield](), set[str]()
    if garden is not None:
        case = read_case(garden, own_crops)
        catalogue, own = with_own_yields(case.catalogue, case.scenario), own_yields(case.scenario.weighed)
        changed = {find_crop(one.name, catalogue) for one in case.scenario.crops}
    look = look_of_terminal(inches=inches)
    if name is None:
        if json:
            answer_json(crops_answer(catalogue.crops, catalogue))
        else:
            answer_page(crop_list(catalogue, look), details)
        return exit_codes.FINE
    words = Words()
    crop = catalogue.crop(find_crop(name, catalogue, words))
    if json:
        answer_json(crops_answer([crop], catalogue))
    else:
        known = next((one for one in published.crops if one.name == crop.name and one.name in changed), crop)
        answer_page(crop_card(known, catalogue, look, own.get(crop.name), words, crop), details)
    return exit_codes.FINE
