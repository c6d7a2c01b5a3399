"""``rotasolve share``: what the gardens of many plots order together, lend and swap."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import Case
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import may_write, write_and_say
from rotasolve.cli.options import AsJson, Force, Inches, OwnCrops, Whole
from rotasolve.cli.plots import GardensArgument, find_gardens
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal, talk
from rotasolve.errors import GardenFault, RotasolveError

if TYPE_CHECKING:
    from rotasolve.domain.sharing import ShareRow
    from rotasolve.plots.gardens import GardenFile

HELP = """Sum what many plots need and have over: seed to order together, tools and compost by week, who could swap.

Examples:

\b
  rotasolve share gardens --plans plans
  rotasolve share gardens --plans plans --year 2028 --csv shared.csv

Takes the gardens that 'rotasolve plots' has planned, and the folder of their plans. A garden without a usable plan is
named and left out. The CSV has a row for each garden and thing; its id stays the same when the amount changes.
"""


@guarded
def share(
    gardens: GardensArgument,
    plans: Annotated[
        Path, typer.Option(metavar="FOLDER", help="Where 'rotasolve plots' has put the plans.", show_default=False)
    ],
    year: Annotated[
        list[int] | None,
        typer.Option(metavar="YEAR", help="This garden year; may be given several times; the first if not given."),
    ] = None,
    csv: Annotated[Path | None, typer.Option(metavar="FILE", help="Write the rows as CSV (RFC 4180) as well.")] = None,
    own_crops: OwnCrops = None,
    details: Whole = False,
    json: AsJson = False,
    force: Force = False,
    inches: Inches = False,
) -> int:
    """Sum what many gardens need and have over."""
    found = find_gardens(gardens)
    replace = False
    if csv is not None:
        replace = may_write(csv, force, *(garden.file for garden in found if isinstance(garden.file, Path)))
    from rotasolve.tasks.sharing import pairs_of, sums_of, swaps_of
    from rotasolve.views.exports.share_files import share_answer, share_csv
    from rotasolve.views.pages.share_page import share_page

    rows: list[ShareRow] = []
    troubles: list[str] = []
    souths: set[bool] = set()
    for garden in found:
        try:
            south, ours = _rows(garden, plans, tuple(own_crops or ()))
        except RotasolveError as refusal:
            troubles.append(f"{garden.garden} is left out: {refusal}")
            continue
        souths.add(south)
        rows += ours
    if len(souths) > 1:
        raise GardenFault("gardens north and south of the equator have different garden years; sum one kind")
    if not souths:
        raise GardenFault("\n".join(["no garden has a plan that can be used", *troubles]))
    years = sorted(set(year or (min((row.year for row in rows), default=0),)))
    rows = [row for row in rows if row.year in years]
    swaps = list(swaps_of(rows))
    sums, pairs, count = sums_of(rows), pairs_of(swaps), len(found) - len(troubles)
    if csv is not None:
        write_and_say(share_csv([*rows, *swaps]), csv, replace)
    if json:
        answer_json(share_answer(sums, swaps, pairs, count))
    else:
        answer_page(share_page(sums, pairs, count, souths.pop(), look_of_terminal(inches=inches)), details)
    for trouble in troubles:
        talk(trouble)
    return exit_codes.FOUND if troubles else exit_codes.FINE


def _rows(garden: GardenFile, plans: Path, own_crops: Sequence[Path]) -> tuple[bool, list[ShareRow]]:
    from rotasolve.files.scenarios import read_with_catalogue
    from rotasolve.relations.ground.garden import make_garden
    from rotasolve.tasks.sharing import share_rows

    case = Case(*read_with_catalogue(garden.file, own_crops)).with_plan(garden.plan_in(plans))
    for warning in case.warnings:
        talk(f"Note: {garden.garden}: {warning}")
    # Counting strips, for nobody asks what else could be planted where.
    made = make_garden(case.scenario, case.catalogue, exact=False)
    return case.scenario.site.south, list(share_rows(garden.garden, made, case.plan))
