"""Targets out of reach: how far, and what one change of the garden or its rules would give."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_year
from rotasolve.views.words.layout import heading, wrap
from rotasolve.views.words.wishes import say_gain, say_held_by
from rotasolve.views.words.wording import clean, say_count, say_crop, say_kg

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.plan import Plan
    from rotasolve.domain.scenario import Scenario
    from rotasolve.domain.shortfall import Gain, Shortfall
    from rotasolve.views.words.look import Look

_WHOLE = 0.005
"""What is nearer to all that is missing than so many kg, half of the last digit of a gain, is all of it."""


def shortfall_page(
    scenario: Scenario, plan: Plan, found: Sequence[Shortfall], look: Look, crop: str | None = None
) -> str:
    """Return the targets a plan misses, crop after crop; years of which all is alike are said once.

    Parameters
    ----------
    crop
        The only crop asked about. Default: all that have a target.
    """
    south = scenario.site.south
    household = scenario.household
    year = "poor" if household.meet_targets_at == "low yield" else "usual"
    lines = heading(clean(f"{plan.scenario_title}: targets out of reach"), look, "=")
    if not found:
        which = (
            f"The target of {say_crop(crop, scenario.words)} is met in every year"
            if crop
            else "Every yearly target is met"
        )
        none = "The scenario names no targets: there is nothing to fall short of."
        text = f"{which}, reckoned by a {year} year." if household.targets or household.eats else none
        return "\n".join([*lines, *wrap(text, look.text_width)]) + "\n"
    lines += wrap(
        f"{say_count(len(found), 'yearly target')} missed in a {year} year. Below each: what one change gives, the "
        "rest of the plan staying as it is. A plan searched anew may gain more.",
        look.text_width,
    )
    poor = {(outcome.crop, outcome.year): outcome.got.low_kg for outcome in plan.targets}
    for name in dict.fromkeys(short.crop for short in found):
        lines += ["", *heading(clean(say_crop(name, scenario.words)), look, "-")]
        alike: dict[tuple[str, ...], list[str]] = {}
        for short in found:
            if short.crop == name:
                said = _facts(short, poor.get((short.crop, short.year)), look)
                alike.setdefault(said, []).append(say_year(short.year, south))
        for (first, *facts), years in alike.items():
            lines += wrap(f"{', '.join(years)}: {first}", look.text_width, "", "  ")
            for fact in facts:
                lines += wrap(fact, look.text_width, "  ", "    ")
    return "\n".join(lines) + "\n"


def _facts(short: Shortfall, poor: float | None, look: Look) -> tuple[str, ...]:
    poor_counts = short.met_at == "low yield"
    in_poor = f" ({say_kg(poor)} in a poor one)" if poor is not None and not poor_counts else ""
    year = "poor" if poor_counts else "usual"
    first = f"wanted {say_kg(short.wanted_kg)}, got {say_kg(short.got_kg)} in a {year} year{in_poor}, "
    helping = [gain for gain in short.gains if gain.kg > 0]
    idle = [say_gain(gain, look) for gain in short.gains if gain.kg <= 0]
    told = [f"- {_say_gain(gain, short.missing_kg, look)}" for gain in helping]
    if idle:
        told.append(f"- no help: {'; '.join(idle)}")
    return (f"{first}{say_kg(short.missing_kg)} missing", *told, f"Most in the way: {say_held_by(short, look)}.")


def _say_gain(gain: Gain, missing: float, look: Look) -> str:
    whole = ", all that is missing" if gain.kg >= missing - _WHOLE else ""
    return f"{say_gain(gain, look)}: {say_kg(gain.kg)} more{whole}"
