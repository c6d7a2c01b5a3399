"""Reports of small gardens, and Debian's Chromium to open them in.

Elsewhere these tests are skipped where the browser, its driver, axe-core (npm) or Poppler is missing; with ROTASOLVE_CI
set that is a failure.
"""

from __future__ import annotations

import gzip
import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from rotasolve.domain.catalogue import Catalogue
from rotasolve.domain.plan import Plan
from rotasolve.domain.result import Good, ProvenBest
from rotasolve.domain.scenario import Scenario
from rotasolve.files.crops import load_catalogue
from rotasolve.files.scenarios import read_scenario
from rotasolve.files.shipped import shipped_folder
from rotasolve.relations.ground.garden import make_garden
from rotasolve.relations.sun.site_sun import sun_table
from rotasolve.solver.cpsat import Limits
from rotasolve.tasks.reporting import findings_of_plan
from rotasolve.tasks.rotation import plan_rotation
from rotasolve.views.report.report_page import report_page
from rotasolve.views.report.report_parts import Paper, Told
from rotasolve.views.report.sun_maps import sun_html
from rotasolve.views.words.look import Look
from tests.helpers.hostile import hostile_catalogue, hostile_plan, hostile_scenario
from tests.helpers.tiny import bed, scenario

ROOT = Path(__file__).parents[2]
AXE = ROOT / ".ci" / "parsers" / "node_modules" / "axe-core" / "axe.min.js"
NAMES = ("cold-frame", "family-garden", "hostile")
PAGES = (*NAMES, "sun")
"""The reports, and a page of sun maps."""


def missing(what: str) -> None:
    """Skip, or fail where everything must be there."""
    if os.environ.get("ROTASOLVE_CI"):
        pytest.fail(f"{what} is missing, and ROTASOLVE_CI asks for it")
    pytest.skip(f"{what} is not installed; .ci/run installs it")


def _garden(name: str) -> tuple[Scenario, Catalogue, Plan]:
    if name == "hostile":
        return hostile_scenario(), hostile_catalogue(), hostile_plan()
    catalogue = load_catalogue()
    scenario = read_scenario(shipped_folder("scenarios") / f"{name}.yaml", catalogue)
    if name == "allotment":
        # Planned for two minutes once, so that its beds are full.
        text = gzip.decompress((ROOT / "tests" / "data" / "allotment.plan.json.gz").read_bytes())
        return scenario, catalogue, Plan.model_validate_json(text)
    found = plan_rotation(scenario, catalogue, Limits(effort=3))
    assert isinstance(found, ProvenBest | Good)
    return scenario, catalogue, found.plan


def tell(scenario: Scenario, catalogue: Catalogue, plan: Plan, years: int) -> Told:
    """Return what a report of a plan's first years tells."""
    found = findings_of_plan(make_garden(scenario, catalogue), plan)
    shown = tuple(range(plan.first_year, plan.first_year + years))
    return Told(found.garden, found.plan, found.jobs, found.supplies, shown, Look())


def _sun_page() -> str:
    beds = [bed(f"<b>bed {nth}", 6, east=nth * 130, north=0) for nth in range(3)]
    wall = {"name": "wall & <i>", "kind": "wall", "east": -100, "north": -40, "length": 600, "height": 250}
    place = scenario(beds=beds, obstacles=[wall])
    return sun_html(place, sun_table(place))


@pytest.fixture(scope="session")
def told() -> dict[str, Told]:
    """Return what each report tells; one year each, so that the browser has not too much to print."""
    return {name: tell(*_garden(name), years=1) for name in (*NAMES, "allotment")}


@pytest.fixture(scope="session")
def page(told: dict[str, Told], tmp_path_factory: pytest.TempPathFactory) -> Callable[..., Path]:
    """Return a writer of report files by name and paper."""
    folder = tmp_path_factory.mktemp("reports")

    def write(name: str, paper: Paper = "A4") -> Path:
        file = folder / f"{name}-{paper}.html"
        if not file.exists():
            text = _sun_page() if name == "sun" else report_page(told[name], paper)
            file.write_text(text, encoding="utf-8")
        return file

    return write


@pytest.fixture(scope="session")
def chromium() -> str:
    """Return the path of the browser."""
    found = shutil.which("chromium")
    if found is None:
        missing("chromium, a Debian package,")
    return str(found)


@pytest.fixture(scope="session")
def driver(chromium: str) -> Iterator[Any]:
    """Return a browser without a window that keeps a log of its console and of every request."""
    service = shutil.which("chromedriver")
    if service is None:
        missing("chromium-driver, a Debian package,")
    from selenium.webdriver import Chrome, ChromeOptions, ChromeService

    options = ChromeOptions()
    options.binary_location = chromium
    for switch in ("--headless=new", "--no-sandbox", "--disable-dev-shm-usage", "--hide-scrollbars"):
        options.add_argument(switch)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    browser = Chrome(options=options, service=ChromeService(str(service)))
    yield browser
    browser.quit()


@pytest.fixture(scope="session")
def axe() -> str:
    """Return the text of axe-core."""
    if not AXE.is_file():
        missing("axe-core, an npm package, in .ci/parsers")
    return AXE.read_text(encoding="utf-8")
