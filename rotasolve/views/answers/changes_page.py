"""A plan made from an earlier one: what was kept, what changed against it, and what stands against what is kept."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rotasolve.domain.plan import Breach
from rotasolve.views.answers.room_page import say_place_and_days
from rotasolve.views.exports.plan_json import reason_answer
from rotasolve.views.pages.editing import say_planting
from rotasolve.views.words.layout import Column, heading, table, wrap
from rotasolve.views.words.reasons import reason_sentence, say_reason
from rotasolve.views.words.titles import code_of
from rotasolve.views.words.wording import clean, say_count, sentence

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.moves import Changes, Move, Why
    from rotasolve.domain.plan import Plan
    from rotasolve.views.words.look import Look

_COLUMNS = (Column("Crop"), Column("What changes"), Column("Before"), Column("After"))


_WHY = {
    "failed": "it failed, and its ground is free again",
    "not wanted": "the scenario wants the crop no more",
    "in the past": "it would be started on a day gone by",
    "fewer points": "nothing is against it, but the plan loses fewer points so",
}


def changes_page(
    before: Plan,
    after: Plan,
    changes: Changes,
    south: bool,
    look: Look,
    why: Sequence[Why] = (),
    *,
    nothing_new: bool = False,
) -> str:
    """Return what a plan keeps of an earlier one and what changed against it, with the reason of each change.

    ``why`` has a reason for each of the moves, or for the first of them.
    """
    kept = sum(planting.kept for planting in after.plantings)
    # What failed is kept, cleared sooner: it is told among the changes.
    changed = [*(move.after for move in changes.moves if move.after is not None), *changes.new]
    others = changes.unchanged - kept + sum(planting.kept for planting in changed)
    lines = heading("What changed against the earlier plan", look)
    if nothing_new:
        lines += wrap(_NOTHING_NEW, look.text_width)
    told = [
        f"{say_count(kept, 'planting')} kept by you, {say_count(others, 'other')} as before, "
        f"{say_count(len(changes.moves), 'planting')} changed or gone, {len(changes.new)} new"
    ]
    was, now = before.points_lost, after.points_lost
    if before.goals:
        told.append(f"the earlier plan loses {say_count(was, 'point')}, this one {now:,} (fewer is better)")
    for fact in told:
        lines += wrap(sentence(fact), look.text_width)
    rows = [
        (
            move.before.crop,
            say_what_changes(move),
            say_place_and_days(move.before, south, look),
            say_place_and_days(move.after, south, look) if move.after is not None else "nothing",
        )
        for move in changes.moves
    ]
    rows += [(planting.crop, "new", "nothing", say_place_and_days(planting, south, look)) for planting in changes.new]
    if rows:
        lines += ["", *table(_COLUMNS, rows, look)]
    if why:
        lines += ["", *heading("Why", look, "-")]
    for move, reason in zip(changes.moves, why, strict=False):
        told_why = sentence(_say_why(reason, look))
        lines += wrap(f"- {clean(say_planting(move.before))}: {told_why}", look.text_width, "", "  ")
    return "\n".join(lines) + "\n"


_NOTHING_NEW = (
    "Nothing is new since the earlier plan was written: it stays as it is. With --keep nothing, or a bed or a crop to "
    "keep, the rest is searched again from it."
)


def _say_why(why: Why, look: Look) -> str:
    if not isinstance(why, Breach):
        return _WHY[why]
    return f"it could not stay, for {say_reason(why, look)}{code_of(why.claim.rule, look)}"


def against_page(against: Sequence[Breach], look: Look) -> str:
    """Return what stands against the kept plantings by themselves, each with the plantings that it speaks of."""
    lines = heading("What you keep breaks rules by itself", look)
    for breach in against:
        lines += wrap(f"- {reason_sentence(breach, look)}", look.text_width, "", "  ")
        for planting in breach.plantings:
            lines += wrap(clean(say_planting(planting)), look.text_width, "    ", "      ")
    lines += ["", *wrap("Change these in the plan file, or keep fewer plantings with --keep.", look.text_width)]
    return "\n".join(lines) + "\n"


def say_what_changes(move: Move) -> str:
    """Say what becomes of a planting: ``gone``, ``moved``, ``cut back`` or ``cleared sooner``, say."""
    one, other = move.before, move.after
    if other is None:
        return "gone"
    if (one.bed, one.start, one.clear) == (other.bed, other.start, other.clear) and one.plants != other.plants:
        return "cut back" if other.plants < one.plants else "more of it"
    if (one.bed, one.start, one.strips) == (other.bed, other.start, other.strips):
        return "cleared sooner" if other.clear < one.clear else "cleared later"
    return "moved"


def changes_answer(before: Plan, after: Plan, changes: Changes, why: Sequence[Why] = ()) -> dict[str, Any]:
    """Return for programs what a plan keeps of an earlier one, what changed against it, and why."""
    reasons = [reason_answer(each) if isinstance(each, Breach) else {"sentence": _WHY[each]} for each in why]
    reasons += [{}] * (len(changes.moves) - len(reasons))
    return {
        "kept": [p.model_dump(mode="json") for p in after.plantings if p.kept],
        "unchanged": changes.unchanged,
        "changed": [
            {"what": say_what_changes(move), "why": reason, **move.model_dump(mode="json")}
            for move, reason in zip(changes.moves, reasons, strict=True)
        ],
        "new": [planting.model_dump(mode="json") for planting in changes.new],
        "points_lost_before": before.points_lost if before.goals else None,
        "points_lost": after.points_lost,
    }


def against_answer(against: Sequence[Breach]) -> list[dict[str, Any]]:
    """Return for programs what stands against the kept plantings by themselves."""
    return [
        {**reason_answer(breach), "plantings": [planting.model_dump(mode="json") for planting in breach.plantings]}
        for breach in against
    ]
