"""What is had of the wishes, in words: crops had in full, and those had in part with what each year gives."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rotasolve.domain.missed import NEARLY_ALL
from rotasolve.views.words.layout import Column
from rotasolve.views.words.wording import kg_number, say_crop, say_kg, say_number, say_share

if TYPE_CHECKING:
    from rotasolve.domain.plan import Plan, Standing, TargetOutcome

_MOST_YEARS = 5
"""With more years than these columns would not fit: the poorest and the best year stand for all."""


@dataclass(frozen=True)
class Got:
    """What is had of the wishes: ``told`` are sentences on what is had in full, ``rows`` the crops had in part.

    Those of which a year misses most come first.
    """

    title: str
    told: tuple[str, ...]
    columns: tuple[Column, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()


def got_of(plan: Plan, words: Mapping[str, str]) -> Got:
    """Return what a plan gives of its yearly wishes; ``words`` are the grower's own for crops."""
    by_crop: dict[str, list[TargetOutcome]] = {}
    for outcome in plan.targets:
        by_crop.setdefault(outcome.crop, []).append(outcome)
    short = {crop: years for crop, years in by_crop.items() if min(map(_share, years)) < NEARLY_ALL}
    full = [crop for crop in by_crop if crop not in short]
    poor = any(outcome.met_at == "low yield" for outcome in plan.targets)
    named = ", ".join(say_crop(crop, words) for crop in full)
    told = [f"In full every year ({len(full)} of {len(by_crop)} crops): {named}."] if full else []
    gaps = [f"{say_crop(crop, words)} {_say_months(by_crop[crop])}" for crop in full if _months(by_crop[crop])[0]]
    if gaps:
        told.append(f"Not to be picked in every month wished: {', '.join(gaps)}.")
    title = f"What you get of what you wish, in a {'poor' if poor else 'usual'} year"
    if not short:
        return Got(title, tuple(told))
    worst = sorted(short.values(), key=lambda outcomes: min(map(_share, outcomes)))
    fresh = any(outcome.fresh_half_months_wanted for outcomes in worst for outcome in outcomes)
    return Got(title, tuple(told), _columns(worst[0], fresh), tuple(_row(outcomes, fresh, words) for outcomes in worst))


def _columns(outcomes: Sequence[TargetOutcome], fresh: bool) -> tuple[Column, ...]:
    years = [str(outcome.year) for outcome in outcomes]
    names = years if len(years) <= _MOST_YEARS else ["Least", "Most"]
    columns = [Column("In part"), Column("Wished", number=True), *(Column(name, number=True) for name in names)]
    return (*columns, *([Column("To pick in the months wished")] if fresh else []))


def _row(outcomes: Sequence[TargetOutcome], fresh: bool, words: Mapping[str, str]) -> tuple[str, ...]:
    got = [outcome.counted_kg for outcome in outcomes]
    shown = got if len(got) <= _MOST_YEARS else [min(got), max(got)]
    wished = max(outcome.wanted_kg for outcome in outcomes)
    return (
        say_crop(outcomes[0].crop, words),
        say_kg(wished),
        *map(kg_number, shown),
        *([_say_months(outcomes)] if fresh else []),
    )


def _share(outcome: TargetOutcome) -> float:
    return outcome.counted_kg / outcome.wanted_kg if outcome.wanted_kg else 1.0


def _months(outcomes: Sequence[TargetOutcome]) -> tuple[float, float]:
    """Return the months in which a crop wished fresh is not there, and those in which it is wished."""
    wanted = sum(outcome.fresh_half_months_wanted for outcome in outcomes)
    return (wanted - sum(outcome.fresh_half_months for outcome in outcomes)) / 2, wanted / 2


def _say_months(outcomes: Sequence[TargetOutcome]) -> str:
    missing, wanted = _months(outcomes)
    return f"{say_number(wanted - missing)} of {say_number(wanted)} months" if wanted else ""


def say_how_near(standing: Standing) -> str:
    """Say without points how near a plan is to the best one."""
    kept = "" if standing.speaks_of_all else ", what was decided before staying as it is"
    if standing.outcome == "proven best":
        tried = "planting sizes" if standing.every_start else "start days and planting sizes"
        return f"No better plan is possible with the {tried} that were tried{kept}."
    avoidable = (standing.lost - standing.at_least_lost) / max(1, standing.lost)
    return (
        f"Of what it falls short of your wishes, at most {say_share(avoidable)} could be made good by a better plan"
        f"{kept}; a longer search (--seconds) may find some of it."
    )
