"""Lengths and frost dates that once were read wrongly."""

from __future__ import annotations

from datetime import date

import pytest

from rotasolve.domain.measures import parse_length
from rotasolve.domain.scenario import PinnedPlanting
from rotasolve.domain.site import Frost
from rotasolve.relations.ground.sowings import pinned_sowing
from rotasolve.relations.season.frosts import frost_day
from tests.helpers.tiny import AUTUMN, CATALOGUE, crop, scenario, start


@pytest.mark.parametrize(
    ("text", "cm"),
    # The inch is 2.54 cm by the international yard and pound agreement of 1959.
    [("-4 ft 6 in", -137.16), ("4 ft 6 in", 137.16), ("4'6\"", 137.16), ("-2 m", -200)],
)
def test_the_sign_stands_for_the_whole_length(text: str, cm: float) -> None:
    assert parse_length(text) == cm


def test_a_sign_inside_a_length_is_refused() -> None:
    with pytest.raises(ValueError, match="not a length"):
        parse_length("4 ft -6 in")


def test_a_frost_date_may_have_its_spread_over_new_year() -> None:
    # From 20 December to 10 January: 21 days.
    frost = Frost(half=(12, 20), safe=(12, 1), daring=(1, 10))
    assert frost_day(frost, 0.9, spring=False).days == 21
    assert frost_day(frost, 0.1, spring=False).days == -19


def test_a_pin_in_january_finds_the_window_opened_in_december() -> None:
    # Twelve weeks after the first frost of 1 October is 24 December 2027, sixteen weeks after it 21 January 2028.
    beet = crop("beet", "daisies", starts=[start(12, 200, 16, unit=AUTUMN), start(-10, 40, 0, way="set out")])
    pin = PinnedPlanting(bed="bed", crop="beet", start=date(2028, 1, 2))
    assert pinned_sowing(pin, beet, CATALOGUE.cover("open ground"), scenario(years=2)).way == "sown in place"
