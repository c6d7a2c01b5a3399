"""The benchmarks: what is measured, for how long, and the bar it must pass. Run with ``pytest -m bench``.

The bars are this project's own, meant for a machine with two cores that nothing else uses.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class SearchBenchmark:
    """A search of a shipped scenario for ``seconds``.

    ``most_gap`` is the share of the points within reach that the plan may still be missing at the end;
    ``first_plan_seconds`` the latest moment of the first refereed plan.
    """

    scenario: str
    seconds: float
    most_gap: float
    first_plan_seconds: float


@dataclass(frozen=True)
class CommandBenchmark:
    """A command as a process, the median of ``runs``, with the most seconds it may take from start to end."""

    arguments: tuple[str, ...]
    most_seconds: float
    runs: int = 5


SEARCHES = (
    SearchBenchmark("family-garden", seconds=60, most_gap=0.05, first_plan_seconds=5),
    SearchBenchmark("allotment", seconds=120, most_gap=0.10, first_plan_seconds=30),
)

PROVEN = CommandBenchmark(("plan", "cold-frame", "--json", "--quiet"), most_seconds=5, runs=1)

COMMANDS = (
    CommandBenchmark(("--help",), most_seconds=0.3),
    CommandBenchmark(("check", "family-garden"), most_seconds=0.8),
)


@dataclass(frozen=True)
class QuestionBenchmark:
    """A question about the allotment's plan, asked in a process that has started up already."""

    name: str
    most_seconds: float


QUESTIONS = (
    QuestionBenchmark("where one crop can go", most_seconds=1),
    QuestionBenchmark("room made by moving", most_seconds=10),
    QuestionBenchmark("a smallest clash", most_seconds=10),
)

BOUND_TOLERANCE = 0.001
"""How much looser our bound may be than that of HiGHS alone, as a share of the points between it and an empty garden:
the search's own gap is measured on that scale, and two runs of HiGHS itself differ by a few points."""

YIELD_BAND_KG_PER_M2 = (2.0, 6.0)
"""Whole-garden yield a year. Low end: 2.44 kg/m2 of mixed stand (Yield Expectations for Mixed Stand, Small-Scale
Agriculture, Rutgers NJAES, 2012) and 2.93 in ordinary rows; high end: 6.05 in raised beds, mean of three years (Ohio
State University Extension, Dawes Arboretum, as quoted in 2010)."""


@dataclass(frozen=True)
class ExchangeBenchmark:
    """An exchange curve of a shipped scenario, at the command's own limit.

    Every point may miss ``most_gap`` of the points within reach; the whole may take ``most_seconds``.
    ``cold_seconds`` is the limit of one search from nothing that has to come as near as the curve's points.
    """

    scenario: str
    points: int
    most_gap: float
    most_seconds: float
    cold_seconds: float


EXCHANGE = ExchangeBenchmark("family-garden", points=6, most_gap=0.05, most_seconds=90, cold_seconds=60)


@dataclass(frozen=True)
class PlotsBenchmark:
    """So many gardens of a shipped scenario's size, ``seconds`` each, on a pool and on a local cluster.

    The pool may take ``most_times`` what its processes need if each searches without a pause, and ``start_up_seconds``;
    the cluster ``most_overhead`` more than the pool.
    """

    scenario: str
    gardens: int
    seconds: float
    most_times: float
    start_up_seconds: float
    most_overhead: float


PLOTS = PlotsBenchmark("family-garden", 40, seconds=10, most_times=1.15, start_up_seconds=10, most_overhead=0.10)
