"""Plans side by side: figures, harvests, work and differences, one column for each side."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rotasolve.domain.plan import Harvest
from rotasolve.domain.seasons import MONTHS, first_day, say_year
from rotasolve.views.exports.as_json import SCHEMA_VERSION
from rotasolve.views.words.cautions import keeping_cautions
from rotasolve.views.words.layout import Column, heading, table, wrap
from rotasolve.views.words.more_or_less import say_harvest_between, say_points_between
from rotasolve.views.words.wording import (
    TIED,
    clean,
    kg_number,
    say_count,
    say_counted,
    say_kg,
    say_number,
    say_share,
    sentence,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.comparison import Change, Comparison, CropFigures, Difference, Side, WorkLoad
    from rotasolve.views.words.look import Look

_PEAKS = 3
"""How many of the busiest half months are shown for each side."""
_ESTIMATES = "Yields are estimates from published figures; what is said of a poor year is their low end."


def letter(number: int) -> str:
    """Return the short name of a side: A, B, C and so on, after Z with a number."""
    return chr(ord("A") + number % 26) + (str(number // 26 + 1) if number >= 26 else "")


def comparison_page(comparison: Comparison, catalogue: Catalogue, south: bool, look: Look) -> str:
    """Return a comparison as text."""
    sides = comparison.sides
    lines = heading("Plans side by side", look, "=")
    for number, side in enumerate(sides):
        how = "planned now" if side.planned_here else "a plan from a file"
        lines += wrap(f"{letter(number)}: {clean(side.name)} ({clean(side.title)}), {how}", look.text_width, "", "   ")
    columns = [Column("All years together"), *(Column(letter(number), number=True) for number in range(len(sides)))]
    lines += ["", *table(columns, list(_facts(comparison)), look)]
    for note in _notes(comparison):
        lines += wrap(note, look.text_width)
    crops = [Column("Crop"), *(Column(letter(number), number=True) for number in range(len(sides)))]
    lines += ["", *heading("Kilograms got of those wanted, all years together", look)]
    lines += table(crops, list(_crops(sides)), look)
    lines += ["", *heading("Busiest times", look)]
    for number, side in enumerate(sides):
        lines += wrap(f"{letter(number)}: {_say_peaks(side.figures.work)}", look.text_width, "", "   ")
    for change in comparison.changes:
        lines += ["", *heading(f"What {letter(change.side)} changes against {letter(0)}", look)]
        for fact in _changed(change):
            lines += wrap(sentence(fact), look.text_width)
    lines += ["", *heading("What differs in the plans", look)]
    lines += _differences(comparison.differences, south, len(sides), look) or ["nothing: bed by bed the same plants"]
    lines += ["", *heading("Please note", look)]
    for text in (*_keeping(sides, catalogue), _ESTIMATES):
        lines += wrap(f"- {text}", look.text_width, "", "  ")
    return "\n".join(lines) + "\n"


def comparison_answer(comparison: Comparison, catalogue: Catalogue) -> dict[str, Any]:
    """Return a comparison for programs."""
    return {
        "schema_version": SCHEMA_VERSION,
        "sides": [
            {
                "name": side.name,
                "title": side.title,
                "planned_here": side.planned_here,
                "points_lost": _lost(side),
                "breaches": len(side.plan.verdict.breaches),
                "total": {"wanted_kg": _wanted(side), "got": _total(side).model_dump(), "short_kg": _short(side)},
                **side.figures.model_dump(mode="json", exclude={"work"}),
                "work": [
                    {
                        "from": first_day(load.period).isoformat(),
                        "sowings": load.sowings,
                        "settings_out": load.settings_out,
                    }
                    for load in side.figures.work
                ],
                "plan": side.plan.model_dump(mode="json"),
            }
            for side in comparison.sides
        ],
        "differences": [difference.model_dump(mode="json") for difference in comparison.differences],
        "changes": [change.model_dump(mode="json") for change in comparison.changes],
        "points_comparable": comparison.same_wishes,
        "cautions": [*_keeping(comparison.sides, catalogue), _ESTIMATES],
    }


def _lost(side: Side) -> int:
    return sum(goal.lost for goal in side.plan.goals)


def _wanted(side: Side) -> float:
    return round(sum(crop.wanted_kg for crop in side.figures.crops), 3)


def _short(side: Side) -> float:
    return round(sum(crop.short_kg for crop in side.figures.crops), 3)


def _total(side: Side) -> Harvest:
    got = [crop.got for crop in side.figures.crops]
    return Harvest(
        low_kg=round(sum(harvest.low_kg for harvest in got), 3),
        typical_kg=round(sum(harvest.typical_kg for harvest in got), 3),
        high_kg=round(sum(harvest.high_kg for harvest in got), 3),
    )


def _changed(change: Change) -> Iterator[str]:
    """Yield what a change costs in plantings, kilograms and points."""
    found, name = change.changes, letter(0)
    alike = f"{say_count(found.unchanged, 'planting')} as in {name}"
    yield f"{alike}, {len(found.moves)} changed or gone, {len(found.new)} new"
    yield say_harvest_between(change.harvest)
    if change.points is not None:
        yield say_points_between(change.points)


def _notes(comparison: Comparison) -> Iterator[str]:
    """Yield why some figures are left out: what cannot be compared."""
    if not comparison.same_wishes:
        yield "Points are left out: the sides have other wishes, rules or years, and lose points for other things."
    around = [letter(number) for number, side in enumerate(comparison.sides) if not _whole(side)]
    if around:
        yield (
            f"No gap is said of {', '.join(around)}: planned around what was kept or decided before, it is compared "
            "only with plans that keep the same."
        )


def _whole(side: Side) -> bool:
    return side.plan.standing is None or side.plan.standing.speaks_of_all


def _facts(comparison: Comparison) -> Iterator[tuple[str, ...]]:
    sides = comparison.sides
    yield "years", *(str(side.plan.years) for side in sides)
    yield "wanted", *(say_kg(_wanted(side)) for side in sides)
    yield "got, usual year", *(say_kg(_total(side).typical_kg) for side in sides)
    yield "got, poor year", *(say_kg(_total(side).low_kg) for side in sides)
    yield "short of targets", *(say_kg(_short(side)) for side in sides)
    fresh = [
        (
            sum(crop.fresh_half_months for crop in side.figures.crops),
            sum(crop.fresh_half_months_wanted for crop in side.figures.crops),
        )
        for side in sides
    ]
    yield "months to pick fresh", *(f"{say_number(hit / 2)} of {say_number(wished / 2)}" for hit, wished in fresh)
    yield "plantings", *(str(len(side.plan.plantings)) for side in sides)
    yield "ground used", *(f"{say_number(side.figures.ground_m2)}{TIED}m2" for side in sides)
    yield "beds in use, months in all", *(say_number(side.figures.bed_months) for side in sides)
    if comparison.same_wishes:
        yield "points lost", *(f"{_lost(side):,}" for side in sides)
    yield "rules broken", *(str(len(side.plan.verdict.breaches)) for side in sides)
    gaps = [side.plan.standing.gap if side.plan.standing is not None and _whole(side) else None for side in sides]
    if any(gap is not None for gap in gaps):
        yield "gap", *("" if gap is None else say_share(gap) for gap in gaps)


def _crops(sides: Sequence[Side]) -> Iterator[tuple[str, ...]]:
    found = [{crop.crop: crop for crop in side.figures.crops} for side in sides]
    for name in dict.fromkeys(name for crops in found for name in crops):
        yield name, *(_say_crop(crops.get(name)) for crops in found)


def _say_crop(crop: CropFigures | None) -> str:
    if crop is None:
        return "none"
    unit, each = crop.counted_in, crop.kg_per_unit
    got, low = say_counted(crop.got.typical_kg, unit, each), kg_number(crop.got.low_kg)
    wanted = f" of {say_counted(crop.wanted_kg, unit, each)}" if crop.wanted_kg else ""
    return f"{got}{wanted}, {low} in poor years"


def _say_peaks(work: Sequence[WorkLoad]) -> str:
    busiest = sorted(work, key=lambda load: (-load.sowings - load.settings_out, load.period))[:_PEAKS]
    return "; ".join(
        f"{_say_half(load.period)} with {say_count(load.sowings, 'sowing')} and "
        f"{say_count(load.settings_out, 'planting')} set out"
        for load in busiest
    )


def _say_half(period: int) -> str:
    day = first_day(period)
    return f"{'early' if day.day == 1 else 'late'} {MONTHS[day.month - 1]} {day.year}"


def _differences(found: Sequence[Difference], south: bool, sides: int, look: Look) -> list[str]:
    columns = (
        Column("Year"),
        Column("Bed"),
        Column("Crop"),
        *(Column(f"Plants in {letter(number)}", number=True) for number in range(sides)),
    )
    rows = [(say_year(d.year, south), d.bed, d.crop, *(f"{plants:,}" for plants in d.plants)) for d in found]
    return table(columns, rows, look)


def _keeping(sides: Sequence[Side], catalogue: Catalogue) -> tuple[str, ...]:
    kept = {outcome.crop for side in sides for outcome in side.plan.targets if outcome.keep_kg}
    return keeping_cautions(kept, catalogue)
