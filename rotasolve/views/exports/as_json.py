"""Answers for programs: plain dictionaries with a schema version, stable within a major version of rotasolve."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rotasolve.views.words.summary import area_m2, crops_in_plan, strips_in

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.closed_ground import ClosedGround
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.fault import Fault
    from rotasolve.domain.ground_need import GroundNeed
    from rotasolve.domain.scenario import Scenario

SCHEMA_VERSION = 1

Answer = dict[str, Any]


def check_answer(
    scenario: Scenario | None,
    faults: Iterable[Fault],
    warnings: Sequence[str],
    need: GroundNeed | None = None,
    closed: Iterable[ClosedGround] = (),
) -> Answer:
    """Return whether a scenario can be used: faults, sizes, the ground that its wishes need, and what is closed."""
    summary: Answer | None = None
    if scenario is not None:
        summary = {
            "title": scenario.title,
            "first_year": scenario.first_year,
            "years": scenario.years,
            "beds": len(scenario.beds),
            "strips": strips_in(scenario),
            "area_m2": round(area_m2(scenario), 4),
            "crops": list(crops_in_plan(scenario)),
        }
    return {
        "schema_version": SCHEMA_VERSION,
        "usable": scenario is not None,
        "faults": [
            {"file": f.file, "line": f.line, "column": f.column, "what": f.what, "mend": f.mend} for f in faults
        ],
        "warnings": list(warnings),
        "summary": summary,
        "closed_ground": [one.model_dump(mode="json") for one in closed],
        "ground_need": None if need is None else {"fits": need.fits, **need.model_dump(mode="json")},
    }


def crops_answer(crops: Iterable[Crop], catalogue: Catalogue) -> Answer:
    """Return crops in full, with the sources their figures name."""
    dumped = [crop.model_dump(mode="json", exclude_none=True) for crop in crops]
    named = sorted({key for crop in dumped for key in sources_in(crop, "source")})
    return {
        "schema_version": SCHEMA_VERSION,
        "crops": dumped,
        "sources": {key: catalogue.sources[key].model_dump() for key in named if key in catalogue.sources},
    }


def sources_in(value: object, field: str) -> Iterable[str]:
    """Yield the sources that an answer names anywhere under a field of that name."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from inner if key == field else sources_in(inner, field)
    elif isinstance(value, list):
        for inner in value:
            yield from sources_in(inner, field)
