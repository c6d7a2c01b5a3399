"""Crops that get less sun than they usually want, by hours the grower has counted."""

from __future__ import annotations

from rotasolve.domain.sun import LowSun
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.sun.low_sun import low_sun
from tests.helpers.tiny import SOURCE, bed, catalogue, crop, planting, scenario

SUN = {"low": 4, "typical": 6, "high": 8, "unit": "hours per day", "source": SOURCE}
RECORDS = catalogue([crop("fig", "figs", sun_hours_least=SUN), crop("fern", "ferns")])


def found(hours: float | None, *days: tuple[str, str], name: str = "fig") -> tuple[LowSun, ...]:
    place = scenario([name], [bed(sun_hours=hours)])
    return low_sun(make_garden(place, RECORDS), [planting(name, (1,), *span) for span in days])


def test_a_crop_below_its_usual_hours_is_named_once_with_its_darkest_hours() -> None:
    assert found(5, ("2027-05-01", "2027-07-31"), ("2027-08-01", "2027-09-30")) == (
        LowSun(crop="fig", bed="bed", hours=5, wanted=6),
    )


def test_enough_sun_and_no_knowledge_are_passed_over() -> None:
    assert found(6, ("2027-05-01", "2027-07-31")) == ()
    assert found(None, ("2027-05-01", "2027-07-31")) == ()
    assert found(5, ("2027-05-01", "2027-07-31"), name="fern") == ()
    # In winter no ground has the hours: they are rules of thumb for the growing season.
    assert found(5, ("2027-11-01", "2028-02-28")) == ()


def test_those_that_miss_most_come_first() -> None:
    place = scenario(["fig"], [bed("dim", sun_hours=5), bed("dark", sun_hours=4)])
    plantings = [planting("fig", (1,), "2027-05-01", "2027-07-31", bed=name) for name in ("dim", "dark")]
    assert [one.bed for one in low_sun(make_garden(place, RECORDS), plantings)] == ["dark", "dim"]
