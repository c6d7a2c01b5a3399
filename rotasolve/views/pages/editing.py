"""A plan edited by hand, in words: what was changed in the file, what that breaks, and where it stands."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rotasolve.domain.edits import edits_of
from rotasolve.domain.seasons import say_day
from rotasolve.domain.strips import say_strips
from rotasolve.views.exports.as_json import SCHEMA_VERSION
from rotasolve.views.exports.plan_json import edited_answer, goal_answer, reason_answer
from rotasolve.views.words.layout import heading, wrap
from rotasolve.views.words.reasons import reason_sentence
from rotasolve.views.words.standing import goal_table
from rotasolve.views.words.verdict import say_verdict
from rotasolve.views.words.wording import clean, say_count

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from rotasolve.domain.edits import Edits
    from rotasolve.domain.plan import Breach, Plan, Planting
    from rotasolve.views.words.look import Look

Finding = tuple["Breach", tuple[int, ...]]
"""A breach, with the numbers of the plantings that break it."""


def say_edits(edits: Edits | None, worked_out: int = 0) -> str:
    """Say what was edited by hand in a plan; nothing if it is as it was written.

    ``worked_out`` is the number of plantings whose figures did not follow from what they say.
    """
    if edits is None:
        if not worked_out:
            return ""
        return f"in {say_count(worked_out, 'planting')} figures did not follow from the rest; they were worked out anew"
    if not edits.touched:
        return ""
    told = []
    if edits.changed:
        told.append(f"{say_count(len(edits.changed), 'planting')} changed or added")
    if edits.gone:
        told.append(f"{edits.gone} gone or replaced")
    what = f" ({', '.join(told)})" if told else ""
    return f"edited by hand since it was written{what}; what follows from that was worked out anew"


def say_no_standing(plan: Plan) -> str:
    """Say why it is not known how near a plan is to the best; nothing if that is not the reason."""
    edits = edits_of(plan)
    if plan.standing is not None or edits is None or not edits.touched:
        return ""
    return (
        "The plan was edited by hand: how near it is to the best is not known any more. "
        "'rotasolve plan SCENARIO --from PLAN' plans the rest around your changes."
    )


def say_planting(planting: Planting) -> str:
    """Say which planting is meant, on one line."""
    days = f"{say_day(planting.start)} to {say_day(planting.clear)}"
    return (
        f"{planting.crop} in {planting.bed}, {say_strips(planting.strips)}, {days}, "
        f"{say_count(planting.plants, 'plant')}"
    )


def finding_list(found: Sequence[Finding], plan: Plan, places: Mapping[int, str], look: Look) -> list[str]:
    """Return every breach with its rule, and below it the plantings that break it and where they stand in the file."""
    lines: list[str] = []
    for breach, numbers in found:
        lines += wrap(f"- {reason_sentence(breach, look)}", look.text_width, "", "  ")
        for number in numbers:
            said = clean(f"{places[number]}: {say_planting(plan.plantings[number])}")
            lines += wrap(said, look.text_width, "    ", "      ")
    return lines


def refereed_page(
    plan: Plan, found: Sequence[Finding], places: Mapping[int, str], notes: Sequence[str], before: Plan, look: Look
) -> str:
    """Return what the referee found in a plan file: breaches, what was worked out anew, and the points.

    Parameters
    ----------
    places
        Where each planting stands, as ``file:line:column``, for the plantings of the breaches.
    notes
        What was worked out anew, a sentence for each planting.
    before
        The plan as the file has it.
    """
    lines = heading(clean(plan.scenario_title), look, "=")
    lines += wrap(say_verdict(plan), look.text_width)
    if found:
        lines += ["", *finding_list(found, plan, places, look)]
        guilty = {number for _, numbers in found for number in numbers}
        rest = len(plan.plantings) - len(guilty)
        lines += ["", *wrap(f"Nothing is against the other {say_count(rest, 'planting')}.", look.text_width)]
    if notes:
        lines += ["", *heading("Worked out anew", look)]
        for note in notes:
            lines += wrap(f"- {clean(note)}", look.text_width, "", "  ")
    if plan.goals:
        total = plan.points_lost
        lines += ["", *heading(f"Points lost, counted anew: {total:,}", look), *goal_table(plan.goals, look)]
        if before.goals and before.points_lost != total:
            lines += wrap(_say_difference(before.points_lost, total), look.text_width)
    if said := say_no_standing(plan):
        lines += ["", *wrap(said, look.text_width)]
    return "\n".join(lines) + "\n"


def _say_difference(before: int, now: int) -> str:
    more = f"{say_count(now - before, 'point')} more" if now > before else f"{say_count(before - now, 'point')} fewer"
    return f"The file says {before:,}: {more} are lost now (fewer is better)."


def refereed_answer(
    plan: Plan,
    found: Sequence[Finding],
    places: Mapping[int, str],
    notes: Sequence[str],
    before: Plan,
    *,
    scenario_matches: bool,
) -> dict[str, Any]:
    """Return for programs what the referee found in a plan file."""
    return {
        "schema_version": SCHEMA_VERSION,
        "holds": not found,
        "scenario_matches": scenario_matches,
        "edited": edited_answer(plan),
        "breaches": [
            {
                **reason_answer(breach),
                "plantings": [
                    {"number": number, "place": places[number], **plan.plantings[number].model_dump(mode="json")}
                    for number in numbers
                ],
            }
            for breach, numbers in found
        ],
        "worked_out": list(notes),
        "warnings": list(plan.verdict.warnings),
        "points_lost": plan.points_lost,
        "points_lost_in_file": before.points_lost if before.goals else None,
        "goals": [goal_answer(goal) for goal in plan.goals],
        "targets": [target.model_dump(mode="json") for target in plan.targets],
    }
