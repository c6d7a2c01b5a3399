"""A small garden, catalogue and plan made by hand for the tests of views."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.plan import Breach, GoalScore, Harvest, Plan, Planting, Standing, TargetOutcome, Verdict
from rotasolve.domain.scenario import Scenario
from rotasolve.goals.household_yield import TargetsMet
from rotasolve.rules.free_ground import GroundClaim, Stretch, TwoCrops

GOLDEN = Path(__file__).parent / "golden"
REWRITE = "ROTASOLVE_REWRITE_GOLDEN"


def figure(unit: str, low: float, typical: float, high: float) -> dict[str, Any]:
    return {"low": low, "typical": typical, "high": high, "unit": unit, "source": ["trial", "memory"]}


def crop(name: str, family: str, height: float, **more: Any) -> dict[str, Any]:
    return {
        "name": name,
        "species": f"Species of {name}",
        "family": family,
        "hardiness": {"level": "half-hardy", "source": "memory"},
        "height": {"value": height, "unit": "cm", "source": "memory"},
        "spacing_in_row": figure("cm", 25, 30, 40),
        "spacing_between_rows": figure("cm", 30, 30, 45),
        "starts": [
            {
                "way": "set out",
                "earliest": {"value": -2, "unit": "weeks after last frost", "source": "trial"},
                "latest": {"value": 8, "unit": "weeks before first frost", "source": "trial"},
                "days_to_harvest": figure("days", 60, 75, 90),
            }
        ],
        "harvest_weeks": figure("weeks", 2, 4, 6),
        "yield_per_plant": figure("kg per plant", 0.2, 0.5, 0.9),
        **more,
    }


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return Catalogue.model_validate(
        {
            "crops": [
                crop("kale", "Brassicaceae", 70, also=["borecole"], cautions=["wash before eating raw"]),
                crop("garlic", "Amaryllidaceae", 50),
                crop("summer squash", "Cucurbitaceae", 110, cautions=["wash before eating raw"]),
            ],
            "families": [{"name": "Brassicaceae", "common_name": "cabbage family", "source": "trial"}],
            "covers": [
                {"name": "open ground", "days_earlier": 0, "days_later": 0, "source": "memory"},
                {
                    "name": "cold frame",
                    "days_earlier": 14,
                    "days_later": 21,
                    "source": "memory",
                    "caution": "open it on sunny days",
                },
            ],
            "sources": {
                "memory": {"title": "From memory"},
                "trial": {"title": "A trial", "publisher": "Brandow College", "year": "2019", "section": "table 2"},
            },
        }
    )


@pytest.fixture(scope="session")
def scenario() -> Scenario:
    return Scenario.model_validate(
        {
            "title": "Ottilie's [red]yard[/red]",
            "site": {"latitude": 51, "last_frost": {"half": "5 May"}, "first_frost": {"half": "12 October"}},
            "first_year": 2027,
            "years": 2,
            "beds": [
                {"name": "long bed", "length": "6.4 m", "width": "1.2 m", "runs": "east-west", "parts": 2},
                {"name": "frame", "length": "1.2 m", "width": "0.9 m", "cover": "cold frame"},
            ],
            "household": {"targets": [{"crop": "kale", "kg": 4, "fresh_from": "October", "fresh_to": "November"}]},
            "also_allowed": ["garlic", "summer squash"],
            "history": [{"bed": "frame", "crop": "kale", "year": 2026, "until": "2027-02-20", "strips": [2]}],
        }
    )


def planting(crop: str, bed: str, strips: tuple[int, ...], days: list[str], **more: Any) -> Planting:
    start, first, last, clear = (date.fromisoformat(day) for day in days)
    return Planting(
        **{
            "bed": bed,
            "strips": strips,
            "crop": crop,
            "way": "set out",
            "start": start,
            "first_harvest": first,
            "last_harvest": last,
            "clear": clear,
            "rows": 2,
            "plants": 20,
            "harvest": Harvest(low_kg=4, typical_kg=10, high_kg=18),
            **more,
        }
    )


@pytest.fixture(scope="session")
def plan() -> Plan:
    squash = ["2027-05-16", "2027-07-20", "2027-09-10", "2027-09-15"]
    kale = ["2027-08-01", "2027-10-05", "2027-11-20", "2027-11-30"]
    garlic = ["2027-10-01", "2028-06-20", "2028-07-03", "2028-07-15"]
    lone = Harvest(low_kg=0.2, typical_kg=0.5, high_kg=0.9)
    return Plan(
        made_by="by hand",
        scenario_title="Ottilie's [red]yard[/red]",
        scenario_hash="0123456789abcdef",
        first_year=2027,
        years=2,
        plantings=(
            planting("summer squash", "long bed", (1, 2), squash, raise_from=date(2027, 4, 18)),
            planting("kale", "long bed", (3,), kale),
            planting("kale", "frame", (1,), kale, rows=1, plants=1, harvest=lone),
            planting("garlic", "long bed", (1,), garlic, way="sown in place"),
        ),
        targets=(
            TargetOutcome(
                crop="kale",
                year=2027,
                wanted_kg=4,
                got=Harvest(low_kg=4.2, typical_kg=10.5, high_kg=18.9),
                fresh_half_months=3,
                fresh_half_months_wanted=4,
            ),
            TargetOutcome(crop="kale", year=2028, wanted_kg=4, got=Harvest(low_kg=0, typical_kg=0, high_kg=0)),
        ),
        goals=(GoalScore(goal="household-yield", lost=1204, reached=TargetsMet(1, 2, in_a_poor_year=False)),),
        standing=Standing(
            outcome="good, not proven",
            lost=1204,
            at_least_lost=1100,
            lost_if_empty=9600,
            gap=0.0122,
            first_plan_seconds=0.41,
            seconds=5,
            seed=1,
            limit="60 s",
            engine="CP-SAT and HiGHS",
        ),
        verdict=Verdict(
            breaches=(
                Breach(
                    GroundClaim("long bed"),
                    TwoCrops(
                        1,
                        Stretch("kale", date(2027, 5, 1), date(2027, 8, 31)),
                        Stretch("garlic", date(2027, 8, 1), date(2027, 9, 30)),
                    ),
                ),
            )
        ),
    )


@pytest.fixture
def golden() -> Callable[..., None]:
    """Return a check of a text against its golden file; the variable rewrites the file instead."""

    def check(name: str, text: str, suffix: str = "txt") -> None:
        file = GOLDEN / f"{name}.{suffix}"
        if os.environ.get(REWRITE):
            file.write_text(text, encoding="utf-8", newline="\n")
        assert text == file.read_text(encoding="utf-8")

    return check
