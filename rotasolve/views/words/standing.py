"""How good a plan is known to be, in words: while it is searched for, and afterwards."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_day
from rotasolve.views.words.goals import say
from rotasolve.views.words.layout import Column, table, wrap
from rotasolve.views.words.titles import say_title
from rotasolve.views.words.wording import plain, say_count, say_number, say_share

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.plan import GoalScore, Standing
    from rotasolve.views.words.look import Look

GOAL_COLUMNS = (Column("Wish"), Column("What the plan reaches"), Column("Points lost", number=True))


def say_progress(
    plans: int, lost: int | None, at_least: int, if_empty: int, gap: float, seconds: float, width: int = 1000
) -> str:
    """Say one moment of the search on a line of at most ``width`` columns, in fewer words where room is short."""
    gone = f"{seconds:.0f} s"
    if lost is None:
        forms = [
            f"no plan yet, no plan can lose fewer than {at_least:,} of {say_count(if_empty, 'point')}, {gone}",
            f"no plan yet, {gone}",
        ]
    else:
        share = plain(say_share(1 if gap >= 1 else (lost - at_least) / max(1, lost)))
        forms = [
            f"plan {plans}: loses {lost:,} of {say_count(if_empty, 'point')}, "
            f"{at_least:,} of them in any plan ({share} of the loss may be avoidable), {gone}",
            f"plan {plans}: loses {lost:,} of {if_empty:,} points, {at_least:,} in any plan, {gone}",
            f"plan {plans}: loses {lost:,} points, {gone}",
        ]
    return next((form for form in forms if len(form) <= width), forms[-1][:width])


def say_standing(standing: Standing, look: Look) -> list[str]:
    """Say how good the plan is known to be, and how it was found."""
    how_good, how_found = standing_sentences(standing)
    return [*wrap(how_good, look.text_width), *wrap(how_found, look.text_width)]


def standing_sentences(standing: Standing) -> tuple[str, str]:
    """Return how good the plan is known to be, and how it was found."""
    lost = f"it loses {say_count(standing.lost, 'point')}, where empty beds would lose {standing.lost_if_empty:,}"
    around = f" {said}" if (said := _say_around(standing)) else ""
    offer = "sizes of block" if standing.every_start else "start days and sizes of block"
    avoidable = (standing.lost - standing.at_least_lost) / max(1, standing.lost)
    if standing.outcome == "proven best":
        text = f"Proven best: {lost}, and no plan from the {offer} on offer{around} can lose fewer."
    else:
        text = (
            f"Good, not proven: {lost}, and no plan from the {offer} on offer{around} can lose fewer "
            f"than {standing.at_least_lost:,}. "
            f"At most {say_share(avoidable)} of the points lost may be avoidable."
        )
    found = [f"Found with {standing.engine}"]
    if standing.seconds is not None:
        found.append(f"in {say_number(standing.seconds)} s")
    if standing.first_plan_seconds is not None:
        found.append(f"(first plan after {say_number(standing.first_plan_seconds)} s)")
    found.append(f"within the limit of {standing.limit}, seed {standing.seed}.")
    return text, " ".join(found)


def _say_around(standing: Standing) -> str:
    """Say what all plans that the standing speaks of have in common; nothing if nothing was decided before."""
    told = [standing.around] if standing.around else []
    if standing.keeps:
        told.append(
            "that keeps this planting" if standing.keeps == 1 else f"that keeps these {standing.keeps} plantings"
        )
    if standing.nothing_new_by is not None:
        told.append(f"{'and' if told else 'that'} starts nothing else by {say_day(standing.nothing_new_by)}")
    return " ".join(told)


def say_reached(score: GoalScore, look: Look) -> str:
    """Say what a plan reaches of a goal; a plan file of an earlier version holds the sentence."""
    return say(score.reached, look) if score.reached is not None else score.sentence


def goal_cells(goals: Sequence[GoalScore], look: Look) -> list[tuple[str, ...]]:
    """Return a row of ``GOAL_COLUMNS`` for each goal."""
    return [(say_title(goal.goal, look), say_reached(goal, look), f"{goal.lost:,}") for goal in goals]


def goal_table(goals: Sequence[GoalScore], look: Look) -> list[str]:
    """Return the points each goal loses; fewer is better."""
    return table(GOAL_COLUMNS, goal_cells(goals, look), look)
