"""A test of the tests: each helper that model and referee once shared is broken, and that must be noticed.

Each garden has no plan, because a wish asks for what a rule forbids. With the helper broken the search finds one, and
the referee must refuse it; what the referee cannot derive anew, the facts worked out by hand must tell.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest

from rotasolve.domain import strips
from rotasolve.domain.result import Good, ProvenBest
from rotasolve.domain.scenario import Scenario
from rotasolve.errors import InternalFault
from rotasolve.relations.ground import lie_of_beds
from rotasolve.relations.ground.families import FamilyGraph
from rotasolve.relations.season import courses, frosts, temperature_gates, windows, yields
from rotasolve.relations.season.growing import Growing
from rotasolve.relations.sun import bed_sun
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.rotation import plan_rotation
from tests.helpers.golden import untrue
from tests.helpers.tiny import CATALOGUE, bed, scenario

Break = Callable[[pytest.MonkeyPatch], None]


def replaced(patch: pytest.MonkeyPatch, old: Callable[..., Any], new: Callable[..., Any]) -> None:
    """Put a function in the place of another, wherever it has been imported."""
    for name, module in list(sys.modules.items()):
        if name.startswith(("rotasolve.", "tests.helpers.")) and getattr(module, old.__name__, None) is old:
            patch.setattr(module, old.__name__, new)


def _twice_as_broad(patch: pytest.MonkeyPatch) -> None:
    true = strips.part_breadth_cm
    replaced(patch, true, lambda bed: 2 * true(bed))


def _all_low(patch: pytest.MonkeyPatch) -> None:
    replaced(patch, lie_of_beds.height_class, lambda crop, rules: 0)


def _a_family_forgotten(patch: pytest.MonkeyPatch) -> None:
    true, gone = FamilyGraph.family_groups, ("nightshades", "Solanaceae")
    patch.setattr(
        FamilyGraph, "family_groups", lambda self, *gaps: tuple(g for g in true(self, *gaps) if g.name not in gone)
    )


def _three_times_the_yield(patch: pytest.MonkeyPatch) -> None:
    true = yields.expected_harvest
    replaced(patch, true, lambda crop, plants, *share: true(crop, 3 * plants, *share))


def _ripe_in_half_the_time(patch: pytest.MonkeyPatch) -> None:
    true = Growing.days_until_ripe
    patch.setattr(Growing, "days_until_ripe", lambda self, day: (true(self, day) or 0) // 2)


def _two_weeks_milder(patch: pytest.MonkeyPatch) -> None:
    true, weeks = frosts.frost_dates, timedelta(weeks=2)
    replaced(patch, true, lambda *asked: (true(*asked)[0] - weeks, true(*asked)[1] + weeks))


def _windows_worked_out_anew(patch: pytest.MonkeyPatch) -> None:
    """Let no window be remembered, from before a helper is broken or afterwards."""
    replaced(patch, windows.windows_of_year, windows.windows_of_year.__wrapped__)


def _windows_two_weeks_early(patch: pytest.MonkeyPatch) -> None:
    _windows_worked_out_anew(patch)
    true, weeks = windows.start_window, timedelta(weeks=2)

    def early(*asked: Any) -> windows.Window | None:
        window = true(*asked)
        return window and replace(window, earliest=window.earliest - weeks, latest=window.latest - weeks)

    replaced(patch, true, early)


def _windows_in_any_cold(patch: pytest.MonkeyPatch) -> None:
    _windows_worked_out_anew(patch)
    patch.setattr(temperature_gates.Gate, "shuts", lambda self, day: False)


def _windows_not_narrowed(patch: pytest.MonkeyPatch) -> None:
    _windows_worked_out_anew(patch)
    replaced(patch, temperature_gates.narrowed, lambda window, *asked: (window,))


def _nobody_waits_for_the_safe_date(patch: pytest.MonkeyPatch) -> None:
    _windows_worked_out_anew(patch)
    replaced(patch, frosts.frost_share, lambda crop, site, cover: 0.5)


def _covers_forgotten(patch: pytest.MonkeyPatch) -> None:
    _windows_worked_out_anew(patch)
    true = windows.start_window
    bare = {"days_earlier": 0, "days_later": 0}
    replaced(
        patch,
        true,
        lambda crop, start, cover, *asked: true(crop, start, cover.model_copy(update=bare), *asked),
    )


def _never_too_late_to_ripen(patch: pytest.MonkeyPatch) -> None:
    _windows_worked_out_anew(patch)
    patch.setattr(Growing, "cold_end", lambda self, day: None)


def _half_the_share(patch: pytest.MonkeyPatch) -> None:
    true = courses.percent_of
    replaced(patch, true, lambda *asked: true(*asked) // 2)


def _sun_everywhere(patch: pytest.MonkeyPatch) -> None:
    replaced(patch, bed_sun.strip_minutes, lambda scenario, bed, month: (900,) * strips.strips_in_bed(bed))


def _pin(crop: str, start: str, strip: int) -> dict[str, object]:
    return {"bed": "bed", "crop": crop, "start": start, "strips": [strip]}


BY_THE_REFEREE: dict[str, tuple[Break, Scenario, str]] = {
    # Two strips hold 8 heads of lettuce, not 12.
    "breadth doubled": (
        _twice_as_broad,
        scenario(must=[{"crop": "lettuce", "plants": 12}]),
        "spacing-capacity(lettuce, bed)",
    ),
    # Tomatoes from 15 May to 7 September on the equator side of lettuce from 8 May to 20 July.
    "height classes zeroed": (
        _all_low,
        scenario(pinned=[_pin("lettuce", "2027-05-08", 1), _pin("tomato", "2027-05-15", 2)]),
        "pole-side(bed)",
    ),
    # Potatoes in one year and tomatoes in the next: no complete year between, two are asked.
    "a family dropped": (
        _a_family_forgotten,
        scenario(years=2, pinned=[_pin("potato", "2027-04-17", 1), _pin("tomato", "2028-05-15", 1)]),
        "rest(nightshades, bed",
    ),
    # Two strips yield 8 x 0.5 = 4 kg of lettuce at once, not 5.
    "yields tripled": (
        _three_times_the_yield,
        scenario(must=[{"crop": "lettuce", "kg": 5}], beds=[bed()]),
        "must-have(lettuce, 5 kg",
    ),
    # Leeks of 17 July take 161 days; halved, they are picked after 80. A sound plan does hold them.
    "ripe in half the time": (
        _ripe_in_half_the_time,
        scenario(pinned=[_pin("leek", "2027-07-17", 1)]),
        "season-window(leek, bed)",
    ),
}

BY_FACTS: dict[str, tuple[Break, frozenset[str]]] = {
    "breadth doubled": (_twice_as_broad, frozenset({"bed_cuts", "rows_and_plants"})),
    "height classes zeroed": (_all_low, frozenset({"height_classes"})),
    "a family dropped": (_a_family_forgotten, frozenset({"rest_groups"})),
    "frost dates 14 days mild": (_two_weeks_milder, frozenset({"frost_dates"})),
    "sun everywhere": (_sun_everywhere, frozenset({"sun_minutes"})),
    "half the share": (_half_the_share, frozenset({"shares"})),
    "yields tripled": (_three_times_the_yield, frozenset({"yields"})),
    "windows two weeks early": (_windows_two_weeks_early, frozenset({"windows"})),
    "windows in any cold": (_windows_in_any_cold, frozenset({"windows"})),
    "windows not narrowed": (_windows_not_narrowed, frozenset({"windows"})),
    "nobody waits for the safe date": (_nobody_waits_for_the_safe_date, frozenset({"windows"})),
    "covers forgotten": (_covers_forgotten, frozenset({"windows"})),
    "never too late to ripen": (_never_too_late_to_ripen, frozenset({"windows"})),
}


def _plan(garden: Scenario) -> object:
    return plan_rotation(garden, CATALOGUE, Limits(effort=1))


@pytest.mark.parametrize("name", BY_THE_REFEREE)
def test_the_referee_refuses_a_plan_made_with_a_broken_helper(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    break_it, garden, found = BY_THE_REFEREE[name]
    break_it(monkeypatch)
    with pytest.raises(InternalFault, match="the referee refuses our own plan") as refused:
        _plan(garden)
    assert found in str(refused.value)


@pytest.mark.parametrize("name", [name for name in BY_THE_REFEREE if name != "ripe in half the time"])
def test_unbroken_there_is_no_plan_and_no_fault(name: str) -> None:
    assert not isinstance(_plan(BY_THE_REFEREE[name][1]), Good | ProvenBest)


@pytest.mark.parametrize("name", BY_FACTS)
def test_facts_tell_of_a_broken_helper(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    break_it, facts = BY_FACTS[name]
    break_it(monkeypatch)
    assert all(untrue(helper) for helper in facts)


def test_counted_points_tell_of_broken_yields(monkeypatch: pytest.MonkeyPatch) -> None:
    """With a target alone nothing is breached, but the referee recounts more points lost than the solver counted."""
    _three_times_the_yield(monkeypatch)
    with pytest.raises(InternalFault, match="the solver counts"):
        _plan(scenario(targets=[{"crop": "lettuce", "kg": 8}]))
