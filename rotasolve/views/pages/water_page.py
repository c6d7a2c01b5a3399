"""Water by bed and week, in litres."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import MONTHS
from rotasolve.views.words.layout import Column, heading, table, wrap
from rotasolve.views.words.wording import TIED, clean, say_number, sentence

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.scenario import Scenario
    from rotasolve.relations.season.water_need import WeekOfBed
    from rotasolve.views.words.look import Look

_WEEK_COLUMNS, _BED_COLUMNS = 16, 14
"""Room for the first column, and for each bed's."""


def water_notes(scenario: Scenario, weeks: Sequence[WeekOfBed]) -> tuple[str, ...]:
    """Return what the litres leave out."""
    notes = ["The litres are right to about a fifth in a mean year: dig a finger deep before you water"]
    if scenario.site.climate is None or scenario.site.climate.rain_mm is None:
        notes.append("Rain is not known: subtract 1 litre per m2 for each mm that falls on a bed without glass or film")
    else:
        notes.append(
            "Mean rain is taken off in the open and under fleece, all of it; none under a frame or a tunnel. "
            "In a dry week give more"
        )
    if {bed.cover for bed in scenario.beds} - {"open ground"}:
        notes.append("Under covers the need is reckoned as outside: feel the soil there, it may be more or less")
    unknown = sorted({crop for week in weeks for crop in week.unknown})
    if unknown:
        notes.append(f"No published coefficient is known for {', '.join(unknown)}: not counted")
    notes.append("Seed beds and plants just set out need little but often; do not water onto leaves you will eat raw")
    return tuple(sentence(note) for note in notes)


def water_page(scenario: Scenario, year: str, weeks: Sequence[WeekOfBed], look: Look) -> str:
    """Return litres by week and bed; weeks in which no bed needs water are left out, their number is told."""
    lines = [*heading(f"{clean(scenario.title)}: water in {year}, litres (L) a week", look, "="), ""]
    beds = list(dict.fromkeys(week.bed for week in weeks))
    thirsty = sorted({week.monday for week in weeks if week.litres >= 0.5})
    litres = {(week.bed, week.monday): week.litres for week in weeks}
    at_once = max(1, (look.width - _WEEK_COLUMNS) // _BED_COLUMNS)
    for first in range(0, len(beds), at_once):
        shown = beds[first : first + at_once]
        rows = [
            (
                f"{monday.day}{TIED}{MONTHS[monday.month - 1][:3]}{TIED}{monday.year}",
                *(say_number(litres.get((bed, monday), 0.0), 0) for bed in shown),
            )
            for monday in thirsty
        ]
        columns = (Column("Week from"), *(Column(f"{clean(bed)}, L", number=True) for bed in shown))
        lines += [*table(columns, rows, look), ""]
    dry = len({week.monday for week in weeks}) - len(thirsty)
    total = sum(week.litres for week in weeks)
    text = f"In all {say_number(total, 0)}{TIED}litres"
    text += (
        f"; in {dry} more {'week' if dry == 1 else 'weeks'} with plants in the ground no bed needs any" if dry else ""
    )
    lines += wrap(f"{text}.", look.text_width)
    lines += ["", *heading("Please note", look)]
    for note in water_notes(scenario, weeks):
        lines += wrap(f"- {note}", look.text_width, "", "  ")
    return "\n".join(lines) + "\n"
