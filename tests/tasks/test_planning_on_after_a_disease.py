"""A disease seen while a plan is under way: planning on keeps what stands and puts no host there any more."""

from __future__ import annotations

from datetime import date

from rotasolve.domain.result import Good, ProvenBest
from rotasolve.files.diary import read_diary_text
from rotasolve.relations.ground.diary_records import with_diary
from rotasolve.relations.ground.garden import make_garden
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.replanning import Keep, plan_on
from rotasolve.tasks.rotation import plan_rotation
from tests.helpers.tiny import CATALOGUE, bed, scenario

WISHED = [{"crop": "kale", "kg": 4, "weight": 5}, {"crop": "lettuce", "kg": 2}]
GARDEN = scenario(
    beds=[bed("left", 2), bed("right", 2)], years=3, targets=WISHED, rules={"family_gap": 0, "family_gap_wished": 0}
)
LIMITS = Limits(effort=2)


def test_what_stands_stays_and_no_host_follows() -> None:
    first = plan_rotation(GARDEN, CATALOGUE, LIMITS)
    assert isinstance(first, ProvenBest | Good)
    kale = [one for one in first.plan.plantings if one.crop == "kale"]
    sick = next(one for one in kale if one.start.year == 2027)
    # Kale wants every strip of a bed each year: without the disease it stands there again.
    assert any(one.bed == sick.bed and one.start.year > 2027 for one in kale)
    line = f"2027-08-01 disease seen club root on kale, {sick.bed}"
    told = with_diary(GARDEN, CATALOGUE, read_diary_text([line, ""], "d.txt", GARDEN, CATALOGUE).diary)
    found = plan_on(make_garden(told, CATALOGUE), first.plan, Keep(as_of=date(2027, 8, 1)), LIMITS)
    assert found.against == ()
    assert isinstance(found.result, ProvenBest | Good)
    plan = found.result.plan
    assert not plan.verdict.breaches
    now = [one for one in plan.plantings if one.crop == "kale"]
    assert [one.bed for one in now if one.start.year == 2027] == [one.bed for one in kale if one.start.year == 2027]
    assert all(one.bed != sick.bed for one in now if one.start.year > 2027)
    assert any(one.start.year > 2027 for one in now)
