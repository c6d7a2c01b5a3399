"""The report in a browser: no fault, no request, no sideways scrolling, everything within reach of the keyboard."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.browser.conftest import PAGES

Page = Callable[..., Path]
WIDTHS = (360, 800, 1280)

# axe-core's names of WCAG 2.0 to 2.2, levels A and AA, and of its best practices.
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
_RUN_AXE = """\
const done = arguments[arguments.length - 1];
axe.run(document, {runOnly: arguments[0]}).then(
  found => done({broken: found.violations.map(one => one.id), passed: found.passes.length}),
  error => done({broken: ["axe itself: " + error], passed: 0}));
"""
_REACHABLE = "a[href], button, input, select, textarea, summary, [tabindex]"


def set_width(driver: Any, width: int) -> None:
    driver.execute_cdp_cmd(
        "Emulation.setDeviceMetricsOverride", {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": False}
    )


def set_scheme(driver: Any, scheme: str) -> None:
    features = [{"name": "prefers-color-scheme", "value": scheme}]
    driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": features})


def open_page(driver: Any, file: Path) -> None:
    driver.get("about:blank")
    for kind in ("browser", "performance"):
        driver.get_log(kind)
    driver.get(file.as_uri())


def judged(driver: Any, axe: str) -> set[str]:
    """Return the rules that axe-core finds broken in the page as it stands."""
    driver.execute_script(axe)
    found = driver.execute_async_script(_RUN_AXE, TAGS)
    assert found["passed"] > 10
    return set(found["broken"])


@pytest.mark.parametrize("name", PAGES)
def test_it_opens_without_a_fault_and_asks_for_nothing(driver: Any, page: Page, name: str) -> None:
    file = page(name)
    open_page(driver, file)
    assert driver.get_log("browser") == []
    messages = [json.loads(entry["message"])["message"] for entry in driver.get_log("performance")]
    sent = [m["params"]["request"]["url"] for m in messages if m["method"] == "Network.requestWillBeSent"]
    assert sent == [file.as_uri()]


def test_the_logs_would_show_a_fault_and_a_request(driver: Any, page: Page, tmp_path: Path) -> None:
    broken = tmp_path / "broken.html"
    text = page("cold-frame").read_text(encoding="utf-8")
    broken.write_text(text.replace("<h1>", '<script>1</script><img src="http://127.0.0.1:9/x" alt=""><h1>'), "utf-8")
    open_page(driver, broken)
    said = " ".join(entry["message"] for entry in driver.get_log("browser"))
    assert "Content Security Policy" in said


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", PAGES)
def test_no_page_scrolls_sideways(driver: Any, page: Page, name: str, width: int) -> None:
    set_width(driver, width)
    open_page(driver, page(name))
    wide, seen = driver.execute_script("return [document.documentElement.scrollWidth, window.innerWidth]")
    assert seen == width
    assert wide <= width


def test_the_tab_key_reaches_everything_in_order(driver: Any, page: Page) -> None:
    from selenium.webdriver import ActionChains
    from selenium.webdriver.common.keys import Keys

    set_width(driver, 360)
    open_page(driver, page("cold-frame"))
    count = driver.execute_script(
        f"const all = [...document.querySelectorAll('{_REACHABLE}')];"
        "all.forEach((one, nth) => one.setAttribute('data-nth', nth)); return all.length"
    )
    assert count > 10
    reached = []
    for _ in range(count):
        ActionChains(driver).send_keys(Keys.TAB).perform()
        reached.append(driver.execute_script("return document.activeElement.getAttribute('data-nth')"))
    assert reached == [str(nth) for nth in range(count)]
    scrollable = driver.execute_script(
        "return [...document.querySelectorAll('body *')].filter(one => one.scrollWidth > one.clientWidth + 1 &&"
        "  getComputedStyle(one).overflowX === 'auto' && one.tabIndex < 0).length"
    )
    assert scrollable == 0


def test_the_first_tab_skips_to_the_plan(driver: Any, page: Page) -> None:
    from selenium.webdriver import ActionChains
    from selenium.webdriver.common.keys import Keys

    open_page(driver, page("cold-frame"))
    ActionChains(driver).send_keys(Keys.TAB).perform()
    assert driver.execute_script("return document.activeElement.className") == "skip"
    assert driver.execute_script("return document.activeElement.getBoundingClientRect().left") >= 0
    ActionChains(driver).send_keys(Keys.ENTER).perform()
    assert driver.execute_script("return location.hash") == "#plan"


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("name", PAGES)
def test_axe_finds_nothing(driver: Any, page: Page, axe: str, name: str, scheme: str) -> None:
    set_width(driver, 360)
    set_scheme(driver, scheme)
    open_page(driver, page(name))
    dark = driver.execute_script("return matchMedia('(prefers-color-scheme: dark)').matches")
    assert dark == (scheme == "dark")
    assert judged(driver, axe) == set()


FAULTS = {
    "html-has-lang": "document.documentElement.removeAttribute('lang')",
    "color-contrast": "document.querySelector('h2').style.color = '#bbb'",
    "svg-img-alt": "document.querySelector('svg.drawing[aria-label]').removeAttribute('aria-label')",
    "scrollable-region-focusable": "document.querySelector('.scroll').removeAttribute('tabindex')",
    "heading-order": "const h = document.querySelector('h3'); h.outerHTML = '<h6>' + h.innerHTML + '</h6>'",
    "scope-attr-valid": "document.querySelector('thead th').setAttribute('scope', 'sideways')",
    "landmark-one-main": "document.querySelector('main').outerHTML = document.querySelector('main').innerHTML",
    "empty-table-header": "document.querySelector('thead th').textContent = ''",
}


@pytest.mark.parametrize("rule", FAULTS)
def test_axe_finds_the_faults_put_in(driver: Any, page: Page, axe: str, rule: str) -> None:
    set_width(driver, 360)
    set_scheme(driver, "light")
    open_page(driver, page("cold-frame"))
    driver.execute_script(FAULTS[rule])
    assert rule in judged(driver, axe)


def test_hostile_names_are_shown_and_do_nothing(driver: Any, page: Page) -> None:
    from tests.helpers.hostile import BEDS, CROPS, PLACE, TITLE

    open_page(driver, page("hostile"))
    assert driver.title.startswith(TITLE)
    shown = driver.execute_script("return document.body.innerText")
    for text in (TITLE, PLACE, *CROPS[:4], *BEDS[:4]):
        assert text in shown
    found = driver.execute_script(
        "return [...document.querySelectorAll('script, img, iframe, object, link')].length +"
        "  [...document.querySelectorAll('*')].flatMap(one => [...one.attributes]).filter("
        "    attribute => attribute.name.startsWith('on')).length"
    )
    assert found == 0
