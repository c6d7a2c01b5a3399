"""The climate of every site: the one given, else an estimate that is sensible wherever frost dates are given."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.site import Site
from rotasolve.relations.season.daily_curves import MONTH_DAYS
from rotasolve.relations.season.estimated_climate import climate_of, is_estimated
from rotasolve.relations.season.frosts import frosts_of
from tests.helpers.climates import CAMBRIDGE, site_with


def site(latitude: float, last: str, first: str) -> Site:
    return Site.model_validate(
        {"latitude": latitude, "last_frost": {"half": last}, "first_frost": {"half": first}},
    )


def day_of(number: int) -> tuple[int, int]:
    """Return month and day of the year's day ``number``, 0 to 364."""
    for month, days in enumerate(MONTH_DAYS, start=1):
        if number < days:
            return month, number + 1
        number -= days
    raise AssertionError(number)


def test_a_climate_that_is_given_is_the_climate() -> None:
    known = site_with(CAMBRIDGE)
    assert not is_estimated(known)
    assert climate_of(known) is known.climate


def test_an_estimate_is_made_once() -> None:
    one, other = site(52, "1 May", "20 October"), site(52, "1 May", "20 October")
    assert is_estimated(one)
    assert climate_of(one) is climate_of(other)


def test_a_summer_at_52_north_and_one_in_the_north_of_new_york() -> None:
    """July in southern England: mean 16 to 17.5, maximum 21 to 22; at Ithaca 20 to 21 (gardeners' common knowledge)."""
    england = climate_of(site(52, "1 May", "20 October"))
    assert 16 <= (england.mean_minima_c[6] + england.mean_maxima_c[6]) / 2 <= 17.5
    assert 21 <= england.mean_maxima_c[6] <= 22
    ithaca = climate_of(site(42, "15 May", "1 October"))
    assert 20 <= (ithaca.mean_minima_c[6] + ithaca.mean_maxima_c[6]) / 2 <= 21


def test_half_a_year_later_the_south_has_the_north_s_nights() -> None:
    north = climate_of(site(45, "1 May", "1 October"))
    # 1 May is day 121, 1 October day 274; 182 days later are 30 October and 1 April (day 303 and 456 - 365 = 91).
    south = climate_of(site(-45, "30 October", "1 April"))
    assert south.mean_minima_c.index(max(south.mean_minima_c)) == 0
    assert max(south.mean_minima_c) == pytest.approx(max(north.mean_minima_c), abs=0.2)
    assert min(south.mean_minima_c) == pytest.approx(min(north.mean_minima_c), abs=0.2)
    assert south.night_spread_c == north.night_spread_c


def test_frost_dates_stay_those_the_grower_gave() -> None:
    known = site(52, "1 May", "20 October")
    assert [frost.half for frost in frosts_of(known)] == [(5, 1), (10, 20)]


@given(
    latitude=st.floats(-66, 66),
    last=st.integers(0, 364),
    season=st.integers(30, 340),
)
def test_any_frost_dates_give_a_climate_with_nights_below_days(latitude: float, last: int, season: int) -> None:
    frosts = [{"half": day_of(number % 365)} for number in (last, last + season)]
    climate = climate_of(
        Site.model_validate({"latitude": latitude, "last_frost": frosts[0], "first_frost": frosts[1]}),
    )
    for low, high in zip(climate.mean_minima_c, climate.mean_maxima_c, strict=True):
        assert 3 <= high - low <= 20
        assert low >= -40
        assert high <= 50


def test_frost_dates_on_one_day_are_borne() -> None:
    assert climate_of(site(60, "1 July", "1 July")).mean_minima_c[6] < 8
