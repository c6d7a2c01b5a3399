"""``rotasolve plots``: plan many gardens in one go, on this machine or on a cluster."""

from __future__ import annotations

import os
import threading
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from rotasolve.cli import exit_codes
from rotasolve.cli.guard import guarded
from rotasolve.cli.inputs import find_scenario
from rotasolve.cli.options import AsJson, Effort, OwnCrops, Quiet, Seed, Whole, refuse_odd_limits
from rotasolve.cli.progress import Teller, wait_for
from rotasolve.cli.terminal import answer_json, answer_page, look_of_terminal, talk

if TYPE_CHECKING:
    from rotasolve.domain.plots import Plot
    from rotasolve.plots.engine import Engine
    from rotasolve.plots.gardens import GardenFile
    from rotasolve.plots.planning import Round

HELP = """Plan the gardens of many plots in one go: those of a folder, or several scenario files.

Examples:

\b
  rotasolve plots gardens -o plans
  rotasolve plots gardens -o plans --seconds 30
  rotasolve plots one.yaml other.yaml -o plans --effort 10
  rotasolve plots gardens -o plans --cluster tcp://10.0.0.5:8786

Each garden is checked first; one that has faults stops none of the others. Plans are written as they are ready, with
a table of all gardens beside them (plots.csv). Ctrl-C keeps what is done; started again it goes on with what is missing
or has changed. A plan changed by hand is never written over. 'rotasolve share' sums what the plots need and have over.
"""
_SECONDS = 60.0

GardensArgument = Annotated[
    list[str], typer.Argument(metavar="GARDEN...", help="Folders of scenario files, or files.", show_default=False)
]


@guarded
def plots(
    gardens: GardensArgument,
    output: Annotated[
        Path, typer.Option("--output", "-o", metavar="FOLDER", help="Where plans and table go.", show_default=False)
    ],
    seconds: Annotated[
        float | None, typer.Option(min=0.1, max=86_400, metavar="SECONDS", help="Plan each at most so long; else 60.")
    ] = None,
    effort: Effort = None,
    seed: Seed = 1,
    workers: Annotated[
        int | None,
        typer.Option(min=1, max=1024, metavar="NUMBER", help="Gardens side by side; else as many as there are cores."),
    ] = None,
    cluster: Annotated[
        str | None,
        typer.Option(metavar="ADDRESS", help="Plan on this dask cluster; 'local' starts one on this machine."),
    ] = None,
    own_crops: OwnCrops = None,
    again: Annotated[
        bool, typer.Option("--force", help="Plan all anew, even if unchanged, and write over plans changed by hand.")
    ] = False,
    quiet: Quiet = False,
    details: Whole = False,
    json: AsJson = False,
) -> int:
    """Plan many gardens and say what became of each."""
    refuse_odd_limits(seconds, effort)
    found = find_gardens(gardens)
    from rotasolve.files.refusals import refused
    from rotasolve.plots.planning import Round
    from rotasolve.plots.pool import usual_workers
    from rotasolve.solver.cpsat import Limits
    from rotasolve.views.pages.plots_page import plots_answer, plots_page

    with refused(output, "cannot be made"):
        output.mkdir(exist_ok=True)
    wide = workers or usual_workers()
    threads = max(1, (os.cpu_count() or 1) // wide) if cluster is None else 1
    limits = Limits(None if effort is not None else seconds or _SECONDS, effort, seed, threads)
    gone = Round(found, output, limits, tuple(own_crops or ()), again)
    stop, teller = threading.Event(), _RoundTeller(quiet, gone)
    wait_for(lambda: _run(gone, cluster, wide, stop), stop, teller)
    rows = list(gone.rows.values())
    if json:
        answer_json(plots_answer(rows, gone.faults, str(output), stop.is_set()))
    else:
        answer_page(plots_page(rows, gone.faults, look_of_terminal()), details)
    if not quiet:
        talk(f"Plans and their table, plots.csv, are in {output}.")
        if stop.is_set():
            talk("It was stopped early. The same command goes on where it was.")
    return _status(rows)


def find_gardens(words: Sequence[str]) -> tuple[GardenFile, ...]:
    """Return the gardens that folders, files and shipped names stand for."""
    from rotasolve.plots.gardens import gardens_in

    return gardens_in(find_scenario(word) for word in words)


def _run(gone: Round, cluster: str | None, workers: int, stop: threading.Event) -> None:
    if gone.check() == 0:
        gone.write_table(last=True)
        return
    engine = _engine(cluster, workers)
    try:
        gone.plan(engine, stop)
    finally:
        engine.close()


def _engine(cluster: str | None, workers: int) -> Engine:
    from rotasolve.plots.cluster import Cluster
    from rotasolve.plots.pool import Pool

    return Pool(workers) if cluster is None else Cluster(cluster, workers)


def _status(rows: Sequence[Plot]) -> int:
    states = {row.state for row in rows}
    if "failed" in states:
        return exit_codes.OUR_FAULT
    if "waiting" in states:
        return exit_codes.LEFT
    return exit_codes.FINE if states <= {"planned", "kept"} else exit_codes.FOUND


class _RoundTeller(Teller):
    """Tells how many gardens are planned."""

    def __init__(self, quiet: bool, gone: Round) -> None:
        super().__init__(quiet)
        self._gone = gone

    def line(self, width: int) -> str:
        """Return how far the round has come."""
        from rotasolve.views.pages.plots_page import say_round

        return say_round(list(self._gone.rows.values()), self._gone.in_hand, self._gone.seconds_left(), width)
