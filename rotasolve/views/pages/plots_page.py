"""Many plots planned in one go: a table of what became of each, and what is to be done about those without a plan."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from rotasolve.views.words.layout import Column, table, wrap
from rotasolve.views.words.wording import TIED, say_count, say_number

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from rotasolve.domain.plots import Plot, PlotState
    from rotasolve.views.exports.as_json import Answer
    from rotasolve.views.words.look import Look

_COLUMNS = (
    Column("Garden"),
    Column("Wishes met", number=True),
    Column("Points lost", number=True),
    Column("In any plan", number=True),
    Column("Time", number=True),
    Column("State"),
)
_STATES: dict[PlotState, str] = {
    "waiting": "still to be planned",
    "planned": "planned",
    "kept": "planned before, unchanged",
    "left alone": "left as it was",
    "impossible": "no plan can hold every rule ('rotasolve clash' says why)",
    "no plan in time": "no plan found in the time",
    "faults": "cannot be used",
    "failed": "failed",
}


def plots_page(plots: Sequence[Plot], faults: Mapping[str, str], look: Look) -> str:
    """Return the plots as a table, then their sum, then the faults in full by garden."""
    lines = table(_COLUMNS, [_row(plot) for plot in plots], look)
    lines += ["", *wrap(f"{say_states(plots)}.", look.text_width)]
    if faults:
        lines += ["", *wrap("What stands against the others:", look.text_width)]
        for said in faults.values():
            for line in said.split("\n"):
                lines += wrap(line, look.text_width, "", "  ")
    return "\n".join(lines) + "\n"


def _row(plot: Plot) -> tuple[str, ...]:
    state = _STATES[plot.state] + (f": {plot.note}" if plot.note else "")
    return (
        plot.garden,
        "" if plot.wishes is None else f"{plot.wishes_met} of {plot.wishes}",
        "" if plot.lost is None else f"{plot.lost:,}",
        "" if plot.at_least_lost is None else f"{plot.at_least_lost:,}",
        "" if plot.seconds is None else f"{say_number(plot.seconds)}{TIED}s",
        state,
    )


def say_states(plots: Sequence[Plot]) -> str:
    """Say how many plots there are in each state: ``40 gardens: 38 planned, 2 cannot be read as they are``."""
    counts = Counter(plot.state for plot in plots)
    told = ", ".join(f"{counts[state]} {_SHORT[state]}" for state in _STATES if counts[state])
    return f"{say_count(len(plots), 'garden')}: {told}"


_SHORT: dict[PlotState, str] = {
    **_STATES,
    "kept": "planned before",
    "impossible": "without any plan that holds every rule",
    "no plan in time": "without a plan in the time",
    "faults": "with faults",
    "left alone": "left alone",
}


def say_round(plots: Sequence[Plot], in_hand: int, seconds_left: float | None, width: int) -> str:
    """Say how far a round has come, on a line of at most ``width`` columns."""
    waiting = sum(plot.state == "waiting" for plot in plots)
    there = sum(plot.state in ("planned", "kept") for plot in plots)
    said = [f"{there} of {say_count(len(plots), 'garden')} planned", f"{waiting} to go, {in_hand} of them in hand"]
    if there + waiting < len(plots):
        said.append(f"{len(plots) - there - waiting} without a plan")
    if seconds_left is not None and waiting:
        said.append(f"about {_say_time(seconds_left)} left")
    while len(said) > 1 and len(", ".join(said)) > width:
        said.pop()
    return ", ".join(said)[:width]


def _say_time(seconds: float) -> str:
    if seconds < 100:
        return f"{seconds:.0f} s"
    return f"{seconds / 60:.0f} min" if seconds < 6000 else f"{seconds / 3600:.1f} h"


def plots_answer(plots: Sequence[Plot], faults: Mapping[str, str], folder: str, stopped: bool) -> Answer:
    """Return the plots for programs, with the faults in full."""
    return {
        "folder": folder,
        "stopped_early": stopped,
        "gardens": [
            {
                **plot.model_dump(mode="json", exclude={"lost", "at_least_lost"}),
                "points_lost": plot.lost,
                "points_lost_in_any_plan": plot.at_least_lost,
                "faults": faults.get(plot.garden),
            }
            for plot in plots
        ],
    }
