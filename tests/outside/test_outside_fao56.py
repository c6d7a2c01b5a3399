"""FAO Irrigation and Drainage Paper 56 (Allen, Pereira, Raes, Smith 1998): examples, tables, and another program.

Examples 8, 9 and 20 as quoted by open projects; the answer of example 20 (5.0 mm) is from memory. pyfao56 (USDA-ARS,
public domain) carries the paper's tables and its own Penman-Monteith. Importing the package would load a plotting
library, so its tables are read as text, and its one file of equations is loaded alone.
"""

from __future__ import annotations

import ast
import importlib.util
import math
from datetime import date, timedelta
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING

import pytest

from rotasolve.files.crops import load_catalogue
from rotasolve.relations.season.daily_curves import DAYS, day_number
from rotasolve.relations.season.evapotranspiration import reference_mm
from rotasolve.relations.season.radiation import day_length, declination, radiation_above_air, sunset_angle
from rotasolve.relations.season.site_climate import afternoons, nights
from tests.helpers.climates import CAMBRIDGE, INLAND, site_with

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue

Rows = list[list[str]]


def reference_folder() -> Path:
    found = importlib.util.find_spec("pyfao56")
    assert found is not None
    assert found.submodule_search_locations is not None
    return Path(found.submodule_search_locations[0])


@pytest.fixture(scope="session")
def tables() -> dict[str, Rows]:
    """Return tables 11 and 12 as pyfao56 writes them: lines of cells."""
    tree = ast.parse((reference_folder() / "tools" / "tables.py").read_text(encoding="utf-8"))
    found = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
            name = node.targets[0].id
            if name in ("table11data", "table12data") and isinstance(node.value, ast.Constant):
                lines = str(node.value.value).strip().splitlines()
                found[name] = [[cell.strip() for cell in line.split(",")] for line in lines]
    return found


@pytest.fixture(scope="session")
def equations() -> ModuleType:
    spec = importlib.util.spec_from_file_location("reference_equations", reference_folder() / "refet.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


def test_examples_8_and_9_at_20_south_on_3_september() -> None:
    number = day_number(date(2027, 9, 3))
    assert number == 246
    assert declination(number) == pytest.approx(0.120, abs=0.001)
    assert sunset_angle(-20, number) == pytest.approx(1.527, abs=0.001)
    assert radiation_above_air(-20, number) == pytest.approx(32.2, abs=0.1)
    assert day_length(-20, number) == pytest.approx(11.7, abs=0.1)


def test_example_20_hargreaves_at_lyon_in_july() -> None:
    # 45.72 N, 15 July (day 196), 14.8 and 26.6 degrees C: 5.0 mm a day.
    assert reference_mm(45.72, 196, 14.8, 26.6) == pytest.approx(5.0, abs=0.05)


def test_the_sun_stays_up_or_down_beyond_the_polar_circle() -> None:
    assert day_length(70, 172) == 24
    assert day_length(70, 355) == 0
    assert radiation_above_air(70, 355) == pytest.approx(0, abs=1e-9)


def penman_monteith(equations: ModuleType, latitude: float, number: int, lowest: float, highest: float) -> float:
    """Return pyfao56's reference in mm, with what FAO-56 puts in for what is not measured: equations 48 and 50."""

    def saturated(degrees: float) -> float:
        return 0.6108 * math.exp(17.27 * degrees / (degrees + 237.3))

    radiation = 0.16 * math.sqrt(highest - lowest) * radiation_above_air(latitude, number)
    found = equations.ascedaily(
        "S", 200.0, latitude, number, radiation, highest, lowest, vapr=saturated(lowest), wndsp=2.0
    )
    return float(found)


def test_the_reference_program_gives_the_paper_s_example_20(equations: ModuleType) -> None:
    # Lyon: 4.56 mm a day by Penman-Monteith with the same substitutes, at 200 m (the answer from memory).
    assert penman_monteith(equations, 45.72, 196, 14.8, 26.6) == pytest.approx(4.56, abs=0.05)


@pytest.mark.parametrize(("climate", "latitude"), [(CAMBRIDGE, 52.2), (INLAND, 42.7)])
def test_april_to_september_within_a_fifth_of_penman_monteith(
    equations: ModuleType, climate: dict[str, object], latitude: float
) -> None:
    site = site_with(climate, latitude)
    assert site.climate is not None
    low, high = nights(site.climate).days, afternoons(site.climate).days
    summer = range(day_number(date(2027, 4, 1)), day_number(date(2027, 9, 30)) + 1)
    ours = sum(reference_mm(latitude, number, low[number - 1], high[number - 1]) for number in summer)
    theirs = sum(penman_monteith(equations, latitude, number, low[number - 1], high[number - 1]) for number in summer)
    assert 0.8 <= ours / theirs <= 1.2


# Our crop, the row of table 12, the row and region of table 11.
READ_FROM = [
    ("tomato", "tomato", "tomato", "mediterranean"),
    ("leaf lettuce", "lettuce", "lettuce", "mediterranean"),
    ("cucumber", "cucumber fresh market", "cucumber", "arid region"),
    ("onion", "onions dry", "onion dry", "mediterranean"),
    ("sweet pepper", "sweet peppers bell", "sweet peppers bell", "europe mediterranean"),
    ("potato", "potato", "potato", "europe"),
    ("bush bean", "beans green", "beans green", "california mediterranean"),
    ("sweet corn", "maize sweet corn fresh", "maize sweet", "mediterranean"),
    ("carrot", "carrots", "carrots", "mediterranean"),
    ("beetroot", "beets table", "beets table", "mediterranean"),
    ("spinach", "spinach", "spinach", "mediterranean"),
    ("cabbage", "cabbage", "crucifers", "mediterranean"),
    ("aubergine", "eggplant", "eggplant", "mediterranean"),
    ("pea", "peas fresh", "peas", "europe"),
    ("pumpkin", "pumpkin winter squash", "pumpkin winter squash", "europe"),
    ("melon", "sweet melons", "sweet melons", "mediterranean"),
    ("radish", "radish", "radish", "mediterranean europe"),
    ("sweet potato", "sweet potato", "sweet potato", "mediterranean"),
    ("celery", "celery", "celery", "mediterranean"),
]


@pytest.mark.parametrize(("crop", "row", "stage_row", "region"), READ_FROM)
def test_our_coefficients_and_stages_are_those_of_the_tables(
    catalogue: Catalogue, tables: dict[str, Rows], crop: str, row: str, stage_row: str, region: str
) -> None:
    use = catalogue.crop(crop).water
    assert use is not None
    printed = next(cells for cells in tables["table12data"] if cells[0] == row)
    assert [use.initial, use.middle, use.end] == [float(cell) for cell in printed[1:4]]
    stages = [cells[1:5] for cells in tables["table11data"] if cells[0] == stage_row and cells[7] == region]
    days = [str(days) for days in (use.initial_days, use.development_days, use.middle_days, use.late_days)]
    assert days in stages


def test_the_paper_s_printed_coefficients(catalogue: Catalogue) -> None:
    # Table 12 as printed: tomato, lettuce, dry onion, potato, sweet corn.
    printed = {
        "tomato": (0.6, 1.15, 0.80),
        "leaf lettuce": (0.7, 1.00, 0.95),
        "onion": (0.7, 1.05, 0.75),
        "potato": (0.5, 1.15, 0.75),
        "sweet corn": (0.3, 1.15, 1.05),
    }
    for name, coefficients in printed.items():
        use = catalogue.crop(name).water
        assert use is not None
        assert (use.initial, use.middle, use.end) == coefficients


def test_the_year_has_365_days_of_reference() -> None:
    from rotasolve.relations.season.water_need import reference_year

    site = site_with(CAMBRIDGE)
    assert site.climate is not None
    year = reference_year(site.climate, 52.2)
    assert len(year) == DAYS
    # 21 June and 21 December: long warm days evaporate many times as much.
    assert year[171] > 5 * year[354] > 0
    assert date(2027, 1, 1) + timedelta(days=171) == date(2027, 6, 21)
