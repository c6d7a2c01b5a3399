"""``rotasolve exchange``: more people, or more of one crop, against what all other wishes lose by it."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import find_crop
from rotasolve.cli.options import AsJson, Effort, OwnCrops, Quiet, ScenarioArgument, Seed, Whole, refuse_odd_limits
from rotasolve.cli.progress import Teller, wait_for
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal, talk

if TYPE_CHECKING:
    from rotasolve.domain.exchange import Exchange

HELP = """Show what all wishes lose when more people are to be fed, or more of one crop is to be had.

Examples:

\b
  rotasolve exchange family-garden
  rotasolve exchange garden.yaml --people 2,4,6
  rotasolve exchange garden.yaml --crop potato --kg 5,10,20,40

Each point is a plan of its own, with the points that every plan must lose there.
"""
_SECONDS = 86.0
_GAP_PERCENT = 4.0


@guarded
def exchange(
    scenario: ScenarioArgument,
    people: Annotated[
        str | None,
        typer.Option(metavar="NUMBERS", help="People, such as 2,4,6; if left out, around those it has."),
    ] = None,
    crop: Annotated[str | None, typer.Option(metavar="NAME", help="Exchange this crop against all others.")] = None,
    kg: Annotated[str | None, typer.Option(metavar="NUMBERS", help="With --crop: kg a year, such as 5,10,20.")] = None,
    seconds: Annotated[
        float | None,
        typer.Option(min=1, max=86_400, metavar="SECONDS", help="Search all points in at most so long; else 86."),
    ] = None,
    effort: Effort = None,
    gap: Annotated[
        float, typer.Option(min=0, max=100, metavar="PERCENT", help="A point this near its bound is near enough.")
    ] = _GAP_PERCENT,
    seed: Seed = 1,
    own_crops: OwnCrops = None,
    quiet: Quiet = False,
    details: Whole = False,
    json: AsJson = False,
) -> int:
    """Search the exchange curve and show it."""
    refuse_odd_limits(seconds, effort)
    if crop is None and kg is not None:
        raise typer.BadParameter("--kg says how much of a crop; add --crop")
    if crop is not None and (people is not None or kg is None):
        raise typer.BadParameter("with --crop give --kg, and no --people")
    case = read_case(scenario, own_crops)
    name = None if crop is None else find_crop(crop, case.catalogue)
    given = _numbers(kg or people or "", "--kg" if kg else "--people")
    stop, teller = threading.Event(), Teller(quiet)

    def work() -> Exchange:
        from rotasolve.solver.cpsat import Limits
        from rotasolve.tasks.exchange import exchange_curve, usual_amounts

        limits = Limits(None if effort is not None else seconds or _SECONDS, effort, seed, gap=gap / 100)
        amounts = given or usual_amounts(case.scenario.household.people or 1)
        unit = "people" if name is None else f"kg of {name}"
        told = (limits, teller.hear, lambda amount: teller.begin(f"{amount:g} {unit}"), stop)
        return exchange_curve(case.scenario, case.catalogue, amounts, name, *told)

    found = wait_for(work, stop, teller)
    from rotasolve.views.pages.exchange import exchange_answer, exchange_page

    if json:
        answer_json(exchange_answer(found))
    else:
        answer_page(exchange_page(found, look_of_terminal()), details)
    if any(point.plan is not None for point in found.points):
        return exit_codes.FINE
    if all(point.outcome == "impossible" for point in found.points):
        return exit_codes.FOUND
    talk("No plan was found for any point in the time there was; allow more with --seconds, or ask for fewer points.")
    return exit_codes.COULD_NOT_RUN


def _numbers(text: str, option: str) -> tuple[float, ...]:
    """Return the numbers of a list such as ``2,4,6``, none for an empty text."""
    from rotasolve.tasks.exchange import MOST_POINTS

    numbers = []
    for word in (part.strip() for part in text.split(",") if text.strip()):
        try:
            number = float(word)
        except ValueError:
            raise typer.BadParameter(f"{option}: '{word}' is not a number; write a list such as 2,4,6") from None
        least = 0 if option == "--kg" else 0.1
        if not least <= number <= 10_000:
            raise typer.BadParameter(f"{option}: {word} must lie between {least:g} and 10,000")
        numbers.append(number)
    if len(numbers) > MOST_POINTS:
        raise typer.BadParameter(f"{option}: at most {MOST_POINTS} points can be searched, not {len(numbers)}")
    return tuple(numbers)
