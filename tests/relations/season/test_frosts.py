"""Frost dates worked out from mean nights, and the chance of frost by date."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.climate import Climate
from rotasolve.domain.site import Frost
from rotasolve.errors import GardenFault
from rotasolve.relations.season.daily_curves import curve_through
from rotasolve.relations.season.frosts import chance_of_frost_beyond, chance_of_frosty_night, frost_dates, frosts_of
from tests.helpers.climates import CAMBRIDGE, CAMBRIDGE_MINIMA, INLAND, site_with, warmed


def test_mean_nights_on_the_frost_dates_are_those_of_the_stations() -> None:
    # England and Belgium: 3.6 to 4.5 degrees C on the mean last frost, 4.0 to 5.3 on the first in autumn; with the
    # assumed spread of 3.2 the levels are 1.3 * 3.2 = 4.16 and 1.2 * 3.2 = 3.84.
    last, first = frost_dates(site_with(CAMBRIDGE), 2027)
    nights = curve_through(CAMBRIDGE_MINIMA)
    assert nights.on(last) < 4.16 <= nights.on(last + timedelta(days=1))
    assert nights.on(first) < 3.84 <= nights.on(first - timedelta(days=1))
    assert 3.6 <= nights.on(last) <= 4.5


@pytest.mark.parametrize(
    # Cambridge, share of frosty nights in each month as observed 1991-2021 (aquacrop package's series).
    ("month", "observed"),
    [(1, 0.374), (2, 0.396), (3, 0.219), (4, 0.091), (5, 0.005), (10, 0.017), (11, 0.114), (12, 0.273)],
)
def test_the_assumed_spread_gives_the_frosty_nights_of_cambridge(month: int, observed: float) -> None:
    climate = Climate.model_validate(CAMBRIDGE)
    assert chance_of_frosty_night(climate, date(2027, month, 15)) == pytest.approx(observed, abs=0.05)


def test_a_cover_makes_frosty_nights_fewer() -> None:
    climate = Climate.model_validate(CAMBRIDGE)
    bare, covered = (chance_of_frosty_night(climate, date(2027, 4, 15), gain) for gain in (0.0, 1.0))
    assert covered < bare


def test_what_is_given_is_kept_and_the_rest_worked_out() -> None:
    told = site_with(CAMBRIDGE, last_frost={"half": "12 May", "safe": "24 May"})
    last, first = frosts_of(told)
    assert last == Frost(half=(5, 12), safe=(5, 24))
    assert first == frosts_of(site_with(CAMBRIDGE))[1]


def test_the_southern_year_is_the_northern_one_six_months_on() -> None:
    turned = {
        key: value[6:] + value[:6] for key, value in CAMBRIDGE.items() if key in ("mean_minima_c", "mean_maxima_c")
    }
    north = frost_dates(site_with(CAMBRIDGE), 2027)
    south = frost_dates(site_with(turned, latitude=-52), 2027)
    for one, other in zip(north, south, strict=True):
        # Months are not equally long: a few days' grace about 184 days.
        assert abs((other - one).days - 184) <= 4


@pytest.mark.parametrize(("by", "often"), [(20, "hardly ever freeze"), (-25, "freeze all year")])
def test_a_climate_without_frost_dates_is_refused(by: float, often: str) -> None:
    with pytest.raises(GardenFault, match=f"nights {often} here .*give last_frost and first_frost"):
        frosts_of(site_with(warmed(CAMBRIDGE, by)))


@given(st.floats(0, 4), st.sampled_from([CAMBRIDGE, INLAND]))
def test_a_warmer_climate_has_a_longer_season(by: float, climate: dict[str, object]) -> None:
    cool = frost_dates(site_with(climate), 2027)
    try:
        warm = frost_dates(site_with(warmed(climate, by)), 2027)
    except GardenFault:
        return
    assert warm[0] <= cool[0]
    assert warm[1] >= cool[1]


def test_a_first_frost_after_new_year_counts_as_new_years_eve() -> None:
    # 2.5 degrees warmer, the nights of Cambridge fall through 3.84 degrees on 12 January only.
    assert frosts_of(site_with(warmed(CAMBRIDGE, 2.5)))[1] == Frost(half=(12, 31))


def test_the_chance_is_one_half_on_the_half_way_date_and_a_tenth_on_the_safe_one() -> None:
    site = site_with(
        CAMBRIDGE,
        last_frost={"half": "25 April", "safe": "10 May"},
        first_frost={"half": "16 October", "safe": "2 October"},
    )
    assert chance_of_frost_beyond(site, date(2027, 4, 25))[0] == pytest.approx(0.5)
    assert chance_of_frost_beyond(site, date(2027, 5, 10))[0] == pytest.approx(0.1)
    assert chance_of_frost_beyond(site, date(2027, 10, 2))[1] == pytest.approx(0.1)
