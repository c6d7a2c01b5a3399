"""``rotasolve plan``: decide what to grow where, when and in what number."""

from __future__ import annotations

import os
import threading
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NamedTuple

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.case import read_case
from rotasolve.cli.earlier import Asked, read_earlier
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import may_write, write_if_possible
from rotasolve.cli.options import (
    AsJson,
    Details,
    Effort,
    Force,
    Inches,
    OwnCrops,
    Quiet,
    ScenarioArgument,
    Seed,
    refuse_odd_limits,
)
from rotasolve.cli.planned import Told, say_none, say_plan
from rotasolve.cli.progress import Teller, wait_for
from rotasolve.cli.terminal import look_of_terminal, talk, warn

if TYPE_CHECKING:
    from rotasolve.cli.case import Case
    from rotasolve.cli.earlier import Earlier
    from rotasolve.tasks.replanning import Replanned
    from rotasolve.views.words.look import Look

HELP = """Decide what to grow where, when and in what number, over all years of a scenario.

Examples:

\b
  rotasolve plan family-garden --seconds 30
  rotasolve plan garden.yaml -o garden.plan.json
  rotasolve plan garden.yaml --effort 20 --json
  rotasolve plan garden.yaml --from garden.plan.json -o new.plan.json
  rotasolve plan garden.yaml --from garden.plan.json --as-of "10 June 2027"
      --failed "tomato in gate bed"

Ctrl-C ends the search and keeps the best plan so far. Without -o nothing is written.
The answer is one screen; --details adds maps, all years, points and how it was searched.
--from keeps some plantings of an earlier plan as they are, changes little of the rest (each planting changed costs
points), and says first what changed and why. With nothing new the plan stays as it is.
"""
_SECONDS = 60.0
_MOST_WORKERS = 8

Output = Annotated[
    Path | None, typer.Option("--output", "-o", metavar="FILE", help="Write the plan to this file as well.")
]
Seconds = Annotated[
    float | None, typer.Option(min=0.1, metavar="SECONDS", help="Search at most so long; 60 if not given.")
]
Workers = Annotated[
    int | None,
    typer.Option(min=1, max=64, metavar="NUMBER", help="Threads; one less than there are cores if not given."),
]
From = Annotated[
    Path | None, typer.Option("--from", metavar="PLAN", help="Plan on from this plan file.", show_default=False)
]
KeepWhat = Annotated[
    list[str] | None,
    typer.Option(
        metavar="WHAT",
        help="With --from: 'changed' (what was changed by hand, and kept before; if not given), 'all', 'nothing', "
        "or a bed or a crop; may be given several times.",
    ),
]
AsOf = Annotated[
    str | None,
    typer.Option(metavar="DAY", help="With --from: keep what is in the ground by this day, start nothing by then."),
]
Failed = Annotated[
    list[str] | None,
    typer.Option(metavar="CROP", help="With --as-of: this crop, or 'CROP in BED', is cleared on that day."),
]


@guarded
def plan(
    scenario: ScenarioArgument,
    output: Output = None,
    seconds: Seconds = None,
    effort: Effort = None,
    seed: Seed = 1,
    workers: Workers = None,
    earlier: From = None,
    keep: KeepWhat = None,
    as_of: AsOf = None,
    failed: Failed = None,
    own_crops: OwnCrops = None,
    quiet: Quiet = False,
    details: Details = False,
    json: AsJson = False,
    force: Force = False,
    inches: Inches = False,
) -> int:
    """Search a plan and show it."""
    refuse_odd_limits(seconds, effort)
    asked = Asked(earlier, keep or (), as_of, failed or ())
    asked.refuse_alone()
    replace = may_write(output, force, Path(scenario)) if output is not None else False
    limits = Limited(seconds, effort, seed, workers)
    written, shown = Written(output, replace), Shown(quiet, details, json, inches)
    return search_and_say(scenario, read_case(scenario, own_crops), asked, limits, written, shown)


class Limited(NamedTuple):
    """How far is searched, as the options say."""

    seconds: float | None
    effort: float | None
    seed: int
    workers: int | None


class Written(NamedTuple):
    """Where the plan is written, None for nowhere, and whether a file that is there is replaced."""

    output: Path | None
    replace: bool


class Shown(NamedTuple):
    """How the answer is shown, as the options say."""

    quiet: bool = False
    details: bool = False
    json: bool = False
    inches: bool = False


def search_and_say(scenario: str, case: Case, asked: Asked, limits: Limited, written: Written, shown: Shown) -> int:
    """Search a plan, show it, write it, and return the exit status; ``scenario`` is what the case was read from."""
    quiet, page = shown.quiet, look_of_terminal(inches=shown.inches, codes=shown.details)
    notes = _notes(case, page)
    before = read_earlier(asked, case) if asked.earlier is not None else None
    if not quiet:
        warn((*notes, *(before.notes if before is not None else ())))
    stop, teller = threading.Event(), Teller(quiet)
    search = _Search(case, before, *limits)
    outcome = wait_for(lambda: search.run(stop, teller), stop, teller)
    stopped, look = stop.is_set(), None if shown.json else page

    from rotasolve.domain.result import Impossible, OutOfTime

    found = outcome.result
    if isinstance(found, Impossible | OutOfTime):
        return say_none(found, case.scenario, notes, look, stopped=stopped, against=outcome.against)
    trouble = write_if_possible(found.plan, scenario, *written)
    told = Told(scenario, written.output if trouble is None else None, shown.details, stopped)
    say_plan(case, found.plan, notes, look, before, outcome, told)
    if trouble is not None:
        raise trouble
    if not quiet:
        if stopped:
            talk("The search was stopped early: this is the best plan found until then.")
        if written.output is not None:
            talk(f"Written: {written.output}")
    return exit_codes.FINE


def _notes(case: Case, look: Look) -> tuple[str, ...]:
    from rotasolve.files.scenarios import warnings_of
    from rotasolve.relations.household.ground_need import ground_need
    from rotasolve.relations.household.outlook import hopeless_wishes
    from rotasolve.views.words.ground_need import say_need_shortly
    from rotasolve.views.words.wishes import say_hopeless
    from rotasolve.views.words.wording import plain

    hopeless = (plain(f"{say_hopeless(wish, look)}.") for wish in hopeless_wishes(case.garden))
    crowded = (plain(said) for said in say_need_shortly(ground_need(case.garden), look))
    return (*warnings_of(case.scenario, case.catalogue), *hopeless, *crowded)


@dataclass(frozen=True)
class _Search:
    """What is searched and how far, as the options say."""

    case: Case
    before: Earlier | None
    seconds: float | None
    effort: float | None
    seed: int
    workers: int | None

    def run(self, stop: threading.Event, teller: Teller) -> Replanned:
        """Search a plan; what loads the solvers runs on the searching thread, so that Ctrl-C is heard meanwhile."""
        from rotasolve.files.scenarios import scenario_hash
        from rotasolve.solver.cpsat import Limits
        from rotasolve.tasks.replanning import Replanned, plan_on
        from rotasolve.tasks.rotation import plan_garden

        threads = self.workers or max(1, min(_MOST_WORKERS, (os.cpu_count() or 1) - 1))
        limits = Limits(None if self.effort is not None else self.seconds or _SECONDS, self.effort, self.seed, threads)
        told = (limits, teller.hear, stop, scenario_hash(self.case.scenario))
        if self.before is None:
            return Replanned(plan_garden(self.case.garden, *told), ())
        return plan_on(self.case.garden, self.before.plan, self.before.keep, *told)
