"""The report as PDF: one page for each bed's sheet, on A4 and on Letter, nothing cut off, by the program's own way."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from rotasolve.errors import FileTrouble
from rotasolve.printing import print_page
from rotasolve.views.report.report_parts import Paper, Told
from rotasolve.views.report.report_year import MOST_ON_A_PAGE
from rotasolve.views.words.bed_year import panels_of
from tests.browser.conftest import NAMES, missing

Page = Callable[..., Path]
SIZES: dict[Paper, tuple[float, float]] = {"A4": (595.0, 842.0), "Letter": (612.0, 792.0)}
"""Points; A4 is 210 by 297 mm (ISO 216), Letter 8.5 by 11 inches (ANSI Y14.1)."""


TABLE = re.compile(r"^ *Plantings$", re.MULTILINE)
"""The caption of a bed's table."""


def pages_of(pdf: Path) -> list[str]:
    """Return the text of each page."""
    if shutil.which("pdftotext") is None:
        missing("poppler-utils, a Debian package,")
    done = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, timeout=60, check=True)
    return done.stdout.decode("utf-8").split("\f")[:-1]


@pytest.fixture(scope="session")
def printed(chromium: str, page: Page, tmp_path_factory: pytest.TempPathFactory) -> Callable[[str, Paper], Path]:
    """Return a printer of reports; each is printed once."""
    folder = tmp_path_factory.mktemp("printed")

    def to_pdf(name: str, paper: Paper) -> Path:
        pdf = folder / f"{name}-{paper}.pdf"
        if not pdf.exists():
            print_page(chromium, page(name, paper).read_text(encoding="utf-8"), pdf, overwrite=False)
        return pdf

    return to_pdf


def sheets_of(told: Told) -> dict[str, list[str]]:
    """Return the numbers of what stands in each bed in the year shown, without beds in which nothing does."""
    (year,) = told.years
    found = {}
    for bed in told.garden.beds:
        numbers = [str(nth) for panel in panels_of(told.garden, told.plan, bed, year) for nth, _ in panel.stays]
        if numbers:
            found[bed] = numbers
    return found


PRINTED: list[tuple[str, Paper]] = [
    ("cold-frame", "A4"),
    ("cold-frame", "Letter"),
    ("family-garden", "A4"),
    ("family-garden", "Letter"),
    ("allotment", "Letter"),
]


@pytest.mark.parametrize(("name", "paper"), PRINTED)
def test_each_bed_takes_one_page(
    printed: Callable[[str, Paper], Path], told: dict[str, Told], name: str, paper: Paper
) -> None:
    from pypdf import PdfReader

    pdf = printed(name, paper)
    pages = pages_of(pdf)
    reader = PdfReader(pdf)
    assert len(reader.pages) == len(pages)
    for one in reader.pages:
        assert [float(one.mediabox.width), float(one.mediabox.height)] == pytest.approx(SIZES[paper], abs=1)
    sheets, year = sheets_of(told[name]), told[name].years[0]
    nth = next(n for n, text in enumerate(pages) if TABLE.search(text))
    assert "Please note" in "".join(pages[:nth])
    assert pages[nth - 1].lstrip().startswith(str(year))
    free = tuple(f"{bed}, {year}" for bed in told[name].garden.beds if bed not in sheets)
    for bed, numbers in sheets.items():
        # Beds in which nothing stands share a page between the others' pages.
        if free and pages[nth].lstrip().startswith(free):
            assert not TABLE.search(pages[nth])
            nth += 1
        # A page for each sheet, one after the other; a long one has its table on a second page.
        text = pages[nth]
        assert text.lstrip().startswith(f"{bed}, {year}")
        if len(numbers) > MOST_ON_A_PAGE:
            assert not TABLE.search(text)
            nth, text = nth + 1, pages[nth + 1]
        assert len(TABLE.findall(text)) == 1
        # Every row of the table is on the page: its number stands at the begin of a line, before the crop. A share
        # such as "25 % of a full crop" may begin one too.
        table = TABLE.split(text)[1]
        assert re.findall(r"^ *(\d+) +[A-Za-z]", table, re.MULTILINE)[: len(numbers)] == numbers
        nth += 1
    assert pages[nth].lstrip().startswith("Harvest and what is wanted") or "Free all the year" in pages[nth]
    assert not TABLE.search("".join(pages[nth:]))


@pytest.mark.parametrize("name", NAMES)
def test_the_pdf_is_tagged_and_has_no_action(printed: Callable[[str, Paper], Path], name: str) -> None:
    from pypdf import PdfReader

    root: Any = PdfReader(printed(name, "A4")).root_object
    assert bool(root["/MarkInfo"]["/Marked"])
    assert "/OpenAction" not in root
    assert "/JavaScript" not in root.get("/Names", {})


def test_a_browser_that_hangs_is_ended(tmp_path: Path) -> None:
    slow = tmp_path / "slow"
    slow.write_text("#!/bin/sh\nsleep 60\n", encoding="utf-8")
    slow.chmod(0o755)
    with pytest.raises(FileTrouble, match="did not print the PDF within 1 s"):
        print_page(str(slow), "<p>x", tmp_path / "x.pdf", overwrite=False, seconds=1)
    assert sorted(file.name for file in tmp_path.iterdir()) == ["slow"]
