"""A garden's own yields: published figures, shifted toward what was weighed in the garden.

Each season weighed says what share of the published yield the garden gave. Their mean is trusted by

    weight = seasons / (seasons + 2)

and the published figure by the rest: one season counts a third, two a half, six three quarters. The form is the
credibility of Buehlmann (ASTIN Bulletin 4, 1967; cited from memory), n / (n + k), where k is the variance between
the seasons of one garden divided by the variance between gardens. k = 2, seasons differing twice as much as gardens do,
is a judgement on the safe side: no source was read for it.

Low and high end move with the typical yield, so that the range from a poor to a good year stays as broad as published.
"""

from __future__ import annotations

from dataclasses import dataclass
from statistics import fmean
from typing import TYPE_CHECKING

from rotasolve.domain.catalogue import Catalogue, Source
from rotasolve.domain.figure import Figure

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rotasolve.domain.crop import Crop
    from rotasolve.domain.scenario import Scenario, Weighed

SEASONS_OF_DOUBT = 2
"""The k of the weight: so many seasons weighed count half."""
OWN_SOURCE = "own-diary"
"""The key under which a shifted figure names the garden's own diary, beside its published sources."""
_YIELDS = ("yield_per_plant", "yield_per_area", "yield_per_row")


@dataclass(frozen=True)
class OwnYield:
    """What a crop gave in this garden for each unit of the published yield, and what is counted for it.

    ``share`` is the mean over ``seasons`` of weighed to published kilograms, ``weight`` how far it is trusted, and
    ``factor`` the share of the published yield that is counted.
    """

    crop: str
    seasons: int
    share: float
    weight: float
    factor: float


def own_yields(weighed: Iterable[Weighed]) -> dict[str, OwnYield]:
    """Return the own yield of each crop that was weighed, by name; what was weighed twice in a year is one season."""
    seasons: dict[str, dict[int, tuple[float, float]]] = {}
    for one in weighed:
        kg, published = seasons.setdefault(one.crop, {}).get(one.year, (0.0, 0.0))
        seasons[one.crop][one.year] = (kg + one.kg, published + one.published_kg)
    return {crop: _own(crop, [kg / published for kg, published in by.values()]) for crop, by in sorted(seasons.items())}


def _own(crop: str, shares: list[float]) -> OwnYield:
    share, weight = fmean(shares), len(shares) / (len(shares) + SEASONS_OF_DOUBT)
    return OwnYield(crop, len(shares), share, weight, 1 + weight * (share - 1))


def with_own_yields(catalogue: Catalogue, scenario: Scenario) -> Catalogue:
    """Return the catalogue with the yields of crops that were weighed shifted; what is shifted already stays."""
    own = own_yields(scenario.weighed)
    if not own:
        return catalogue
    crops = tuple(_shifted(crop, own[crop.name].factor) if crop.name in own else crop for crop in catalogue.crops)
    sources = {**catalogue.sources, OWN_SOURCE: Source(title="what was weighed in this garden")}
    return catalogue.model_copy(update={"crops": crops, "sources": sources})


def _shifted(crop: Crop, factor: float) -> Crop:
    figures = {name: figure for name in _YIELDS if (figure := getattr(crop, name)) is not None}
    if any(OWN_SOURCE in figure.source for figure in figures.values()):
        return crop
    return crop.model_copy(update={name: _times(figure, factor) for name, figure in figures.items()})


def _times(figure: Figure, factor: float) -> Figure:
    ends = {
        name: round(end * factor, 6)
        for name in ("value", "low", "typical", "high")
        if (end := getattr(figure, name)) is not None
    }
    return figure.model_copy(update={**ends, "source": (*figure.source, OWN_SOURCE)})
