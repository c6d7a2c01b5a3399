"""The next year, in words: what became history, what stands, and how much of it the diary tells."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_day, say_year
from rotasolve.domain.strips import say_strips
from rotasolve.views.exports.as_json import SCHEMA_VERSION, Answer
from rotasolve.views.words.layout import Column, heading, table, wrap
from rotasolve.views.words.wording import clean, say_count, sentence

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rotasolve.domain.next_year import NextYear
    from rotasolve.views.words.look import Look

_STANDING = (Column("Crop"), Column("Bed"), Column("Strips"), Column("Plants", number=True), Column("Ground taken to"))


def next_year_page(found: NextYear, look: Look) -> str:
    """Return what a scenario takes over of the plan before it."""
    scenario, south = found.scenario, found.scenario.site.south
    lines = heading(clean(f"{scenario.title}: from {say_year(scenario.first_year, south)} on"), look, "=")
    for fact in _facts(found):
        lines += wrap(sentence(clean(fact)), look.text_width)
    if found.pinned:
        lines += ["", *heading("What stands, and is planned around", look, "-")]
        rows = [
            (pin.crop, pin.bed, say_strips(pin.strips), f"{pin.plants or 0:,}", say_day(pin.until or pin.start))
            for pin in found.pinned
        ]
        lines += table(_STANDING, rows, look)
    return "\n".join(lines) + "\n"


def _facts(found: NextYear) -> Iterator[str]:
    scenario = found.scenario
    years = f"{say_count(scenario.years, 'year')} from {say_year(scenario.first_year, scenario.site.south)}"
    yield f"planned: {years}; new lines of history: {len(found.history)}"
    yield (
        f"{say_count(found.silent, 'planting')} taken to have happened as planned, for no diary says otherwise; "
        f"{found.told} as the diary tells"
    )
    if found.beside:
        crops = ", ".join(sorted({one.crop for one in found.beside if one.crop is not None}))
        yield f"the diary also tells of what was in no plan: {crops}"
    for one in found.seen:
        yield f"seen in {one.bed}: {one.disease}; hosts stay away for the published years"
    if found.manure:
        yield f"raw manure noted: {say_count(len(found.manure), 'spreading')}"
    if found.closed:
        yield f"closed: {', '.join(one.bed for one in found.closed)}"
    gone = len(found.pins_gone) + len(found.musts_gone)
    if gone:
        yield f"left out, for their years are gone by: {len(found.pins_gone)} pinned, {len(found.musts_gone)} must-have"


def next_year_answer(found: NextYear, file: str) -> Answer:
    """Return for programs what a scenario takes over of the plan before it, and where it was written."""
    return {
        "schema_version": SCHEMA_VERSION,
        "file": file,
        "first_year": found.scenario.first_year,
        "years": found.scenario.years,
        "history": [past.model_dump(mode="json") for past in found.history],
        "standing": [pin.model_dump(mode="json") for pin in found.pinned],
        "seen": [one.model_dump(mode="json") for one in found.seen],
        "as_the_diary_tells": found.told,
        "as_planned": found.silent,
    }
