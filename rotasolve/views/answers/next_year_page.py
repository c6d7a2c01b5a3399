"""The next year, in words: what became history, what stands, and how much of it the diary tells."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rotasolve.domain.seasons import say_day, say_year
from rotasolve.domain.strips import say_strips
from rotasolve.views.exports.as_json import SCHEMA_VERSION
from rotasolve.views.words.layout import Column, heading, table, wrap
from rotasolve.views.words.wording import clean, say_count, sentence

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from rotasolve.domain.diary import Happening
    from rotasolve.domain.scenario import PastPlanting, PinnedPlanting, RawManure, Scenario
    from rotasolve.views.words.look import Look

_STANDING = (
    Column("Crop"),
    Column("Bed"),
    Column("Strips"),
    Column("Plants", number=True),
    Column("Ground free after"),
)


def next_year_page(
    scenario: Scenario,
    history: Sequence[PastPlanting],
    pinned: Sequence[PinnedPlanting],
    diseases: Mapping[str, Sequence[str]],
    manure: Sequence[RawManure],
    told: int,
    silent: int,
    gone: int,
    beside: Sequence[Happening],
    look: Look,
) -> str:
    """Return what a scenario takes over of the plan before it.

    ``told`` plantings are as a diary tells, ``silent`` ones as the plan has them, ``gone`` demands and pins are past.
    """
    south = scenario.site.south
    lines = heading(clean(f"{scenario.title}: from {say_year(scenario.first_year, south)} on"), look, "=")
    for fact in _facts(scenario, history, diseases, manure, told, silent, gone, beside):
        lines += wrap(sentence(clean(fact)), look.text_width)
    if pinned:
        lines += ["", *heading("What stands, and is planned around", look)]
        rows = [
            (pin.crop, pin.bed, say_strips(pin.strips), f"{pin.plants or 0:,}", say_day(pin.until or pin.start))
            for pin in pinned
        ]
        lines += table(_STANDING, rows, look)
    return "\n".join(lines) + "\n"


def _facts(
    scenario: Scenario,
    history: Sequence[PastPlanting],
    diseases: Mapping[str, Sequence[str]],
    manure: Sequence[RawManure],
    told: int,
    silent: int,
    gone: int,
    beside: Sequence[Happening],
) -> Iterator[str]:
    years = f"{say_count(scenario.years, 'year')} from {say_year(scenario.first_year, scenario.site.south)}"
    yield f"planned are {years}; {say_count(len(history), 'line')} of history are new"
    yield (
        f"{say_count(silent, 'planting')} taken to have happened as planned, for the diary says nothing of them; "
        f"{told} are as the diary tells"
    )
    if beside:
        crops = ", ".join(sorted({one.crop for one in beside if one.crop is not None}))
        yield f"the diary also tells of what was in no plan: {crops}"
    for bed, names in diseases.items():
        yield f"seen in {bed}: {', '.join(names)}; its hosts stay away for the published years"
    if manure:
        yield f"raw manure was spread {say_count(len(manure), 'time')}"
    if gone:
        yield f"{say_count(gone, 'demand or pin', 'demands and pins')} of years gone by left out"


def next_year_answer(
    scenario: Scenario,
    history: Sequence[PastPlanting],
    pinned: Sequence[PinnedPlanting],
    told: int,
    silent: int,
    file: str,
) -> dict[str, Any]:
    """Return for programs what a scenario takes over of the plan before it, and where it was written."""
    return {
        "schema_version": SCHEMA_VERSION,
        "file": file,
        "first_year": scenario.first_year,
        "years": scenario.years,
        "history": [past.model_dump(mode="json") for past in history],
        "standing": [pin.model_dump(mode="json") for pin in pinned],
        "as_the_diary_tells": told,
        "as_planned": silent,
    }
