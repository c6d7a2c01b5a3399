"""A diary as a page: what happened day by day, and what was weighed."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import MONTHS, garden_year, say_year
from rotasolve.views.words.happenings import say_happening
from rotasolve.views.words.layout import heading, wrap
from rotasolve.views.words.wording import TIED, clean, say_count, say_kg

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rotasolve.domain.diary import Diary
    from rotasolve.domain.scenario import Scenario
    from rotasolve.views.words.look import Look


def diary_page(scenario: Scenario, diary: Diary, look: Look) -> str:
    """Return what happened, month by month, with the kilograms weighed in each garden year at the end."""
    lines = heading(clean(f"Diary of {scenario.title}"), look, "=")
    if not diary.happenings:
        return "\n".join([*lines, "Nothing is told of these days."]) + "\n"
    for (year, month), group in groupby(diary.happenings, key=lambda one: (one.day.year, one.day.month)):
        lines += ["", *heading(f"{MONTHS[month - 1]} {year}", look)]
        for one in group:
            lines += wrap(f"{one.day.day:>2}{TIED}{say_happening(one)}", look.text_width, "", "   ")
    weighed = list(_weighed(scenario, diary))
    if weighed:
        lines += ["", *heading("Weighed", look)]
        for said in weighed:
            lines += wrap(said, look.text_width, "", "  ")
    lines += ["", f"{say_count(len(diary.happenings), 'line')}."]
    return "\n".join(lines) + "\n"


def _weighed(scenario: Scenario, diary: Diary) -> Iterator[str]:
    south = scenario.site.south
    kilograms: dict[int, dict[str, float]] = {}
    for one in diary.of("picked"):
        if one.kg is not None and one.crop is not None:
            of_year = kilograms.setdefault(garden_year(one.day, south), {})
            of_year[one.crop] = of_year.get(one.crop, 0.0) + one.kg
    for year, crops in sorted(kilograms.items()):
        said = ", ".join(f"{crop} {say_kg(kg)}" for crop, kg in sorted(crops.items()))
        yield f"{say_year(year, south)}: {said}."
