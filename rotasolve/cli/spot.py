"""``rotasolve spot``: where a new bed or cold frame would get the most sun, and which way to turn it."""

from __future__ import annotations

from typing import Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import months_named
from rotasolve.cli.options import AsJson, Inches, ScenarioArgument, Whole
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal
from rotasolve.errors import GardenFault

HELP = """Rank places and bearings for a new bed or cold frame by the sun they get.

Examples:

\b
  rotasolve spot garden.yaml --length "1.8 m" --width "90 cm" --from March --to May
  rotasolve spot garden.yaml --length "1.2 m" --width "60 cm" --tilt 15 --at "3 m" "2 m"
  rotasolve spot garden.yaml --length "4 m" --width "1.2 m" --row "1.5 m"
"""
_SHORTEST_CM, _LONGEST_CM = 20.0, 10_000.0
_TALLEST_ROW_CM = 400.0


@guarded
def spot(
    scenario: ScenarioArgument,
    length: Annotated[str, typer.Option("--length", metavar="LENGTH", help="The long side, such as 1.8 m.")],
    width: Annotated[str, typer.Option("--width", metavar="LENGTH", help="The short side, such as 90 cm.")],
    first: Annotated[str, typer.Option("--from", metavar="MONTH", help="First month wished.")] = "April",
    last: Annotated[str, typer.Option("--to", metavar="MONTH", help="Last month wished.")] = "September",
    row: Annotated[
        str | None, typer.Option("--row", metavar="HEIGHT", help="Height of a tall row along the middle.")
    ] = None,
    tilt: Annotated[
        float, typer.Option("--tilt", metavar="DEGREES", min=0, max=60, help="Tilt of a frame's pane.")
    ] = 0,
    at: Annotated[
        tuple[str, str] | None,
        typer.Option("--at", metavar="EAST NORTH", help="Compare the bearings of one spot, by its middle."),
    ] = None,
    inches: Inches = False,
    details: Whole = False,
    json: AsJson = False,
) -> int:
    """Rank the spots."""
    from rotasolve.relations.sun.spots import NewBed, best_spots
    from rotasolve.views.exports.sun_json import spot_answer
    from rotasolve.views.pages.sun_page import spot_notes, spot_page

    place = read_case(scenario, None).scenario
    (begin,), (end,) = months_named([first]), months_named([last])
    months = [(begin + step - 1) % 12 + 1 for step in range((end - begin) % 12 + 1)]
    long, short = (_length(text, option) for text, option in ((length, "--length"), (width, "--width")))
    high = 0.0 if row is None else _length(row, "--row", 1, _TALLEST_ROW_CM)
    if long < short:
        raise GardenFault(f"--length is the long side and must not be less than --width; exchange {length} and {width}")
    new = NewBed(long, short, tuple(months), high, tilt)
    middle = None if at is None else (_length(at[0], "--at", -100_000, 100_000), _length(at[1], "--at", -100_000, 1e5))
    spots = best_spots(place, new, middle)
    if not spots:
        raise GardenFault("no place was found beside the beds and obstacles for a bed of this size; try a smaller one")
    if json:
        answer_json(spot_answer(spots, months, spot_notes(bool(tilt))))
    else:
        answer_page(spot_page(place, spots, months, look_of_terminal(inches=inches), bool(tilt)), details)
    return exit_codes.FINE


def _length(text: str, option: str, low: float = _SHORTEST_CM, high: float = _LONGEST_CM) -> float:
    """Return the centimetres an option gives."""
    from rotasolve.domain.measures import parse_length, say_metric

    try:
        cm = parse_length(text)
    except ValueError as error:
        raise GardenFault(f"{option}: {error}") from None
    if not low <= cm <= high:
        raise GardenFault(f"{option} must lie between {say_metric(low)} and {say_metric(high)}, not {text}")
    return cm
