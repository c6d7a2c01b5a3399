"""Heat under covers kept shut: by hand at both sides of the limit, and once for each cover of a plan."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from rotasolve.domain.catalogue import Cover
from rotasolve.domain.crop import Crop
from rotasolve.domain.site import Site
from rotasolve.files.crops import load_catalogue
from rotasolve.relations.season.cover_heat import cover_heats, heats_of
from tests.helpers.climates import CAMBRIDGE, site_with
from tests.helpers.tiny import CATALOGUE, SOURCE, bed, catalogue, crop, figure, planting, scenario

SHIPPED = load_catalogue()
FROST: dict[str, Any] = {"last_frost": {"half": "1 May"}, "first_frost": {"half": "1 October"}}


def flat(afternoon: float, latitude: float = 50) -> Site:
    """Return a site whose usual afternoon is the same all year."""
    climate = {"mean_minima_c": [5.0] * 12, "mean_maxima_c": [afternoon] * 12}
    return Site.model_validate({"latitude": latitude, "climate": climate, **FROST})


def tunnel(gain: float = 4) -> Cover:
    none = {"days_earlier": 0, "days_later": 0, "source": SOURCE}
    return Cover.model_validate({"name": "tunnel", **none, "day_gain": figure(gain, "degC")})


def bearing(name: str, most: float) -> Crop:
    return crop(name, name, growth_most=figure(most, "degC"))


LETTUCE, SPINACH, OKRA = bearing("lettuce", 24), bearing("spinach", 24), bearing("okra", 35)


@pytest.mark.parametrize(("afternoon", "hot"), [(19.9, False), (20, False), (20.1, True), (40, True)])
def test_a_cover_is_too_hot_above_what_a_crop_bears(afternoon: float, hot: bool) -> None:
    # 24 - 4 = 20 degrees outside is the limit, itself still borne.
    found = cover_heats(tunnel(), [LETTUCE], flat(afternoon), 2027)
    assert bool(found) is hot
    if hot:
        assert (found[0].first, found[0].last) == (date(2027, 1, 1), date(2027, 12, 31))
        assert found[0].most_c == pytest.approx(afternoon + 4)


def test_crops_that_bear_the_same_are_named_together_the_least_first() -> None:
    low, high = cover_heats(tunnel(), [OKRA, SPINACH, LETTUCE], flat(32), 2027)
    assert (low.crops, low.bears_c) == (("lettuce", "spinach"), 24)
    assert (high.crops, high.bears_c) == (("okra",), 35)
    assert low.sources == (SOURCE,)


def test_no_heat_is_told_of_open_ground_or_of_a_cover_that_warms_nothing() -> None:
    assert cover_heats(CATALOGUE.cover("open ground"), [LETTUCE], flat(40), 2027) == ()
    assert cover_heats(tunnel(0), [LETTUCE], flat(40), 2027) == ()
    assert cover_heats(tunnel(), [crop("kale", "cabbages")], flat(40), 2027) == ()


def test_the_south_is_hot_half_a_year_later() -> None:
    cover, spinach = SHIPPED.cover("tunnel"), [SHIPPED.crop("spinach")]
    turned = {key: (*CAMBRIDGE[key][6:], *CAMBRIDGE[key][:6]) for key in ("mean_minima_c", "mean_maxima_c")}
    (north,) = cover_heats(cover, spinach, site_with(CAMBRIDGE), 2027)
    (south,) = cover_heats(cover, spinach, site_with(turned, latitude=-52), 2027)
    assert north.first.month == 6
    assert (north.last.year, north.last.month) == (2027, 9)
    assert south.first.month == 12
    assert (south.last.year, south.last.month) == (2028, 3)


def test_the_tunnel_has_the_gain_that_was_measured() -> None:
    # Savage (1980, Agrochemophysica 12:5-13, S76): maxima 4.2 degrees above outside in an unheated plastic tunnel.
    heat = cover_heats(SHIPPED.cover("tunnel"), [SHIPPED.crop("spinach")], flat(25), 2027)
    assert heat[0].most_c == pytest.approx(29.2)
    assert "S76" in heat[0].sources


def test_a_plan_names_only_what_stands_in_the_heat_and_each_cover_once() -> None:
    covers = [{"name": "open ground", "days_earlier": 0, "days_later": 0, "source": SOURCE}, tunnel().model_dump()]
    known = catalogue([LETTUCE, SPINACH, OKRA], covers=covers, pathogens=[], neighbours=[])
    climate = {"mean_minima_c": [0.0] * 12, "mean_maxima_c": [5, 5, 5, 10, 15, 20, 25, 20, 15, 10, 5, 5]}
    asked = scenario(beds=[bed("one", cover="tunnel"), bed("two", cover="tunnel"), bed("bare")], years=2)
    asked = asked.model_copy(update={"site": Site.model_validate({"latitude": 50, "climate": climate, **FROST})})
    (hot,) = cover_heats(known.cover("tunnel"), [LETTUCE], asked.site, 2027)
    before = planting("spinach", (1,), "2027-03-01", str(date.fromordinal(hot.first.toordinal() - 1)), bed="one")
    plan = [
        before,
        planting("lettuce", (1,), "2027-07-01", "2027-08-31", bed="one"),
        planting("lettuce", (1,), "2028-07-01", "2028-08-31", bed="two"),
        planting("okra", (2,), "2027-07-01", "2027-08-31", bed="one"),
        planting("spinach", (2,), "2027-07-01", "2027-08-31", bed="bare"),
        planting("lettuce", (2,), "2027-07-01", "2027-08-31", bed="nowhere"),
    ]
    (found,) = heats_of(plan, asked, known)
    assert (found.crops, found.first, found.last) == (("lettuce",), hot.first, hot.last)
    # One day longer, and the spinach stands in it too.
    longer = before.model_copy(update={"clear": hot.first})
    (both,) = heats_of([longer, *plan], asked, known)
    assert both.crops == ("lettuce", "spinach")
