"""A garden whose every name tries to be something else: markup, a formula, a new line of a file, a terminal code."""

from __future__ import annotations

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.plan import Plan
from rotasolve.domain.scenario import Scenario
from rotasolve.referee import blank_plan
from tests.helpers.tiny import CATALOGUE, bed, catalogue, crop, figure, planting, site, start

SCRIPT = "<script>document.title='x'</script>"
FORMULA = "=1+1"
QUOTES = "\"&'><svg onload=x>"
MINUS = "-2+3"
AT = "@SUM(A1)"
CODES = "\x1b[31mred\x1b]0;owned\x07\u202e\u2028x"
ICS = "a;b,c\\n:\u0085SUMMARY:y"
TITLE = "</title></style><script>alert(1)</script><!-- {{ 7*7 }} {% raw %}"
PLACE = "<img src=//a.invalid/x onerror=alert(1)>"
CROPS = (SCRIPT, FORMULA, QUOTES, MINUS, CODES)
BEDS = (SCRIPT.replace("x", "y"), f"{FORMULA}|'x'", f"{QUOTES}b", AT, CODES.replace("red", "blue"), ICS)


def hostile_catalogue() -> Catalogue:
    """Return a catalogue with a crop for each name; what is said of them is hostile too."""
    crops = [
        crop(
            name,
            f"{QUOTES} family",
            cautions=[f"{SCRIPT} {FORMULA}"],
            hardiness={"level": "tender", "source": "common-practice"},
            starts=[start(1, 60, 20, way=way) for way in ("sown in place", "set out")],
            mesh={"how": SCRIPT, "source": "common-practice"},
            sowing_depth=figure(2, "cm"),
        )
        for name in CROPS
    ]
    return catalogue((*crops, *CATALOGUE.crops), pathogens=[], neighbours=[])


def hostile_scenario() -> Scenario:
    """Return a scenario with a bed for each name, the first one tall enough for two strips."""
    return Scenario.model_validate(
        {
            "title": TITLE,
            "site": site(name=PLACE),
            "first_year": 2027,
            "years": 1,
            "beds": [bed(name) for name in BEDS],
            "household": {"targets": [{"crop": name, "kg": 1} for name in CROPS]},
        }
    )


def hostile_plan() -> Plan:
    """Return a plan with every crop in one bed or another, and one planting in every bed."""
    places = [(BEDS[nth % len(BEDS)], CROPS[nth % len(CROPS)]) for nth in range(len(BEDS))]
    plantings = [
        planting(
            name,
            (1,),
            "2027-05-08",
            "2027-07-31",
            "2027-07-07",
            bed=place,
            way="set out",
            raise_from="2027-04-08",
            harvest={"low_kg": 1, "typical_kg": 2, "high_kg": 3},
        )
        for place, name in places
    ]
    return blank_plan(hostile_scenario(), tuple(plantings))
