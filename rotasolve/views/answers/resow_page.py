"""What may still be started on free ground, as a page and for programs; for programs what a disease costs as well."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rotasolve.domain.seasons import say_day
from rotasolve.domain.strips import say_strips
from rotasolve.views.exports.as_json import SCHEMA_VERSION
from rotasolve.views.exports.plan_json import hindrance_answer
from rotasolve.views.words.chances import say_chance
from rotasolve.views.words.layout import heading, wrap
from rotasolve.views.words.titles import say_title
from rotasolve.views.words.wording import clean, sentence

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from rotasolve.domain.chance import Chance, DiseaseCost
    from rotasolve.views.words.look import Look

MOST = 8


def resow_page(
    chances: Sequence[Chance], bed: str, strips: Sequence[int], day: date, look: Look, every: bool = False
) -> str:
    """Return the chances, the best share first, no more than eight unless ``every`` one is asked for."""
    lines = heading(clean(f"{bed}, {say_strips(strips)}, from {say_day(day)}"), look, "=")
    free = [chance for chance in chances if not chance.hindrances]
    shown = free if every else free[:MOST]
    if not shown:
        lines += wrap("No crop of yours can be started here in the next six weeks by the rules.", look.text_width)
    for chance in shown:
        lines += wrap(sentence(say_chance(chance)), look.text_width, "- ", "  ")
    if len(shown) < len(free):
        lines += wrap(f"And {len(free) - len(shown)} more (--all).", look.text_width)
    barred: dict[str, list[str]] = {}
    for chance in chances:
        for rule in dict.fromkeys(one.claim.rule for one in chance.hindrances):
            crops = barred.setdefault(rule, [])
            crops += [chance.planting.crop] if chance.planting.crop not in crops else []
    if barred:
        lines += ["", *heading("In season, but barred by a rule", look)]
        for rule, crops in barred.items():
            lines += wrap(f"{say_title(rule, look)}: {', '.join(crops)}", look.text_width, "", "  ")
        lines += wrap("'rotasolve where' says why, and where else they can go.", look.text_width)
    return "\n".join(lines) + "\n"


def resow_answer(chances: Sequence[Chance], bed: str, strips: Sequence[int], day: date) -> dict[str, Any]:
    """Return every chance in full, those that a rule stands against too."""
    return {
        "schema_version": SCHEMA_VERSION,
        "bed": bed,
        "strips": list(strips),
        "day": day.isoformat(),
        "chances": [
            {
                "planting": chance.planting.model_dump(mode="json"),
                "last_day": chance.last.isoformat(),
                "percent": chance.percent,
                "percent_on_last_day": chance.percent_last,
                "hindrances": [hindrance_answer(one) for one in chance.hindrances],
            }
            for chance in chances
        ],
    }


def disease_answer(cost: DiseaseCost) -> dict[str, Any]:
    """Return for how long hosts stay away, and what of the plan is lost, in kg and points."""
    return {
        "disease": cost.disease,
        "bed": cost.bed,
        "hosts": list(cost.hosts),
        "complete_years": cost.gap_years,
        "closed_for_good": cost.closes,
        "again_in_garden_year": cost.again,
        "lost": [planting.model_dump(mode="json") for planting in cost.lost],
        "points_lost": cost.points,
    }
