"""``rotasolve compare``: plans, scenarios and wishes side by side."""

from __future__ import annotations

import threading
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.guard import guarded
from rotasolve.cli.options import AsJson, Details, Effort, OwnCrops, Quiet, Seed, refuse_odd_limits
from rotasolve.cli.progress import Teller, wait_for
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal, warn
from rotasolve.errors import GardenFault

if TYPE_CHECKING:
    from rotasolve.domain.comparison import Comparison
    from rotasolve.tasks.comparing import Entry

HELP = """Set plans side by side: harvests, fresh months, ground, work peaks, and what differs.

Examples:

\b
  rotasolve compare garden.yaml one.plan.json other.plan.json
  rotasolve compare garden.yaml garden.plan.json more-people.yaml --seconds 30
  rotasolve compare family-garden allotment

A plan file (.json) belongs to the file named before it; where none is, to the scenario it was made for. A scenario
with no plan after it is planned now. A file that holds a household alone is tried in the garden named before it.
"""
_SECONDS = 30.0


@guarded
def compare(
    files: Annotated[
        list[str], typer.Argument(metavar="FILE...", help="Scenarios, plans and wishes.", show_default=False)
    ],
    seconds: Annotated[
        float | None, typer.Option(min=0.1, max=86_400, metavar="SECONDS", help="Plan each at most so long; else 30.")
    ] = None,
    effort: Effort = None,
    seed: Seed = 1,
    own_crops: OwnCrops = None,
    quiet: Quiet = False,
    details: Details = False,
    json: AsJson = False,
) -> int:
    """Compare plans."""
    refuse_odd_limits(seconds, effort)
    entries, notes = _entries(files, own_crops)
    catalogue = entries[0].catalogue
    if not quiet:
        warn(notes)
    stop, teller = threading.Event(), Teller(quiet)

    def work() -> Comparison:
        from rotasolve.solver.cpsat import Limits
        from rotasolve.tasks.comparing import compare_plans

        limits = Limits(None if effort is not None else seconds or _SECONDS, effort, seed)
        return compare_plans(entries, limits, teller.hear, teller.begin, stop)

    found = wait_for(work, stop, teller)
    from rotasolve.views.pages.comparison import comparison_answer, comparison_page

    if json:
        answer_json(comparison_answer(found, catalogue))
    else:
        answer_page(
            comparison_page(found, catalogue, entries[0].scenario.site.south, look_of_terminal(codes=details)), details
        )
    broken = any(side.plan.verdict.breaches for side in found.sides)
    return exit_codes.FOUND if broken else exit_codes.FINE


def _entries(files: list[str], own_crops: list[Path] | None) -> tuple[list[Entry], tuple[str, ...]]:
    """Return what the files say is to be compared, in their order, and notes on plans of changed scenarios."""
    from rotasolve.cli.case import Case, read_case
    from rotasolve.cli.plan_alone import scenario_of
    from rotasolve.files.wishes import holds_wishes_alone, read_wishes
    from rotasolve.tasks.comparing import Entry

    entries: list[Entry] = []
    notes: list[str] = []
    place = now = None
    name, waiting, alone = "", False, False
    for word in files:
        path = Path(word)
        if path.suffix.lower() == ".json":
            if now is None or alone:
                place = now = read_case(scenario_of(path), own_crops)
                alone = True
            planned = now.with_plan(path)
            notes += [f"{word}: {note}" for note in planned.warnings]
            entries.append(Entry(word, now.scenario, now.catalogue, planned.plan))
            waiting = False
            continue
        if waiting and now is not None:
            entries.append(Entry(name, now.scenario, now.catalogue))
        if path.is_file() and holds_wishes_alone(path):
            if place is None:
                raise GardenFault(f"{word}: name the garden in which these wishes are to be tried before them")
            now = Case(read_wishes(path, place.scenario, place.catalogue), place.catalogue)
        else:
            place = now = read_case(word, own_crops)
        alone = False
        name, waiting = word, True
    if waiting and now is not None:
        entries.append(Entry(name, now.scenario, now.catalogue))
    if len(entries) < 2:
        raise GardenFault("a comparison needs two sides at least; name another scenario, plan or file of wishes")
    return entries, tuple(notes)
