"""Sites with a climate for tests.

The minima of CAMBRIDGE are the monthly means of daily minima, 1991-2021, worked out from the Cambridge series in the
aquacrop package; its maxima and the other climates are invented.
"""

from __future__ import annotations

from typing import Any

from rotasolve.domain.site import Site

CAMBRIDGE_MINIMA = (1.25, 1.16, 2.40, 4.00, 6.90, 9.91, 12.14, 12.11, 9.88, 7.16, 4.17, 2.16)
CAMBRIDGE: dict[str, Any] = {
    "mean_minima_c": CAMBRIDGE_MINIMA,
    "mean_maxima_c": (7.4, 8.0, 10.8, 13.9, 17.2, 20.3, 22.9, 22.5, 19.3, 14.8, 10.4, 7.8),
    "rain_mm": (48, 36, 35, 38, 45, 52, 50, 55, 50, 58, 55, 50),
}
INLAND: dict[str, Any] = {
    "mean_minima_c": (-10.5, -9.8, -5.0, 1.0, 7.0, 12.2, 14.8, 14.0, 9.8, 3.5, -1.0, -6.5),
    "mean_maxima_c": (-0.5, 1.0, 6.0, 13.5, 20.0, 24.5, 27.0, 26.0, 21.8, 15.0, 8.0, 2.0),
}


def warmed(climate: dict[str, Any], by: float) -> dict[str, Any]:
    """Return a climate with every month warmer by so many degrees C."""
    ends = {key: tuple(value + by for value in climate[key]) for key in ("mean_minima_c", "mean_maxima_c")}
    return {**climate, **ends}


def site_with(climate: dict[str, Any], latitude: float = 52, **more: Any) -> Site:
    return Site.model_validate({"latitude": latitude, "climate": climate, **more})


def steady(mean: float) -> Site:
    """Return a site of that mean all year, 5 degrees warmer by day and 5 colder by night: as much sun as any other."""
    frosts: dict[str, Any] = {"last_frost": {"half": "1 May"}, "first_frost": {"half": "1 October"}}
    return site_with({"mean_minima_c": (mean - 5,) * 12, "mean_maxima_c": (mean + 5,) * 12}, **frosts)
