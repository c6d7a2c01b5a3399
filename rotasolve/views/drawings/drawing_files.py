"""All drawings of a plan under names that every file system takes."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from rotasolve.domain.seasons import say_year
from rotasolve.views.drawings.bed_drawing import bed_drawing
from rotasolve.views.drawings.harvest_drawing import harvest_drawing
from rotasolve.views.drawings.season_drawing import season_drawing
from rotasolve.views.drawings.site_drawing import site_drawing
from rotasolve.views.exports.as_json import SCHEMA_VERSION
from rotasolve.views.words.layout import Column, table

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from rotasolve.domain.plan import Plan
    from rotasolve.domain.supply import CropSupply
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.views.drawings.svg import Drawing
    from rotasolve.views.words.look import Look

_LONGEST = 40


@dataclass(frozen=True)
class DrawingFile:
    """A drawing and the name of its file; ``kind`` says what it shows, ``bed`` of which bed, None for the whole."""

    name: str
    kind: str
    year: int
    bed: str | None
    drawing: Drawing


def safe_names(beds: Iterable[str]) -> dict[str, str]:
    """Return a name of small letters, digits and hyphens for each bed, no two the same.

    A name without any such letter becomes ``number-3``, counted in the order of the beds; of two that come out the
    same the later one gets a number.
    """
    found: dict[str, str] = {}
    for nth, bed in enumerate(beds, start=1):
        plain = unicodedata.normalize("NFKD", bed).encode("ascii", "ignore").decode("ascii").lower()
        safe = re.sub(r"[^a-z0-9]+", "-", plain)[:_LONGEST].strip("-") or f"number-{nth}"
        taken, tried, further = set(found.values()), safe, 2
        while tried in taken:
            tried, further = f"{safe}-{further}", further + 1
        found[bed] = tried
    return found


def drawing_files(
    garden: Garden,
    plan: Plan,
    supplies: Sequence[CropSupply],
    years: Sequence[int],
    beds: Sequence[str],
    inches: bool = False,
) -> tuple[DrawingFile, ...]:
    """Return the drawings of some years and beds: of each year the site, the harvest, and two of each bed.

    Parameters
    ----------
    garden
        The garden of the plan.
    plan
        The plan.
    supplies
        What ``supply_of`` counted for the plan.
    years
        Garden years.
    beds
        Names of beds.
    inches
        Whether lengths are said in inches and feet. Default: no.
    """
    names = safe_names(garden.beds)
    return tuple(file for year in years for file in _of_year(garden, plan, supplies, year, beds, names, inches))


def _of_year(
    garden: Garden,
    plan: Plan,
    supplies: Sequence[CropSupply],
    year: int,
    beds: Sequence[str],
    names: Mapping[str, str],
    inches: bool,
) -> Iterator[DrawingFile]:
    said = say_year(year, garden.scenario.site.south).replace("/", "-")
    yield DrawingFile(f"site-{said}.svg", "site", year, None, site_drawing(garden, plan, year, inches))
    for bed in beds:
        drawn = bed_drawing(garden, plan, bed, year, inches)
        yield DrawingFile(f"bed-{names[bed]}-{said}.svg", "bed", year, bed, drawn)
        drawn = season_drawing(garden, plan, bed, year, inches)
        yield DrawingFile(f"season-{names[bed]}-{said}.svg", "season", year, bed, drawn)
    yield DrawingFile(f"harvest-{said}.svg", "harvest", year, None, harvest_drawing(garden, supplies, year))


def drawings_page(files: Sequence[DrawingFile], look: Look) -> str:
    """Return the list of files with what each shows."""
    rows = [(file.name, file.drawing.title) for file in files]
    return "\n".join(table((Column("File"), Column("What it shows")), rows, look)) + "\n"


def drawings_answer(files: Sequence[DrawingFile], folder: str, scenario_matches: bool) -> dict[str, Any]:
    """Return the list of files for programs."""
    return {
        "schema_version": SCHEMA_VERSION,
        "folder": folder,
        "scenario_matches": scenario_matches,
        "files": [
            {
                "file": file.name,
                "shows": file.kind,
                "year": file.year,
                "bed": file.bed,
                "title": file.drawing.title,
                "description": file.drawing.description,
            }
            for file in files
        ],
    }
