"""A first scenario file from a handful of answers, with comments that say how to go on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from rotasolve.files.yaml_entries import yaml_words

if TYPE_CHECKING:
    from collections.abc import Iterator


class BedAnswer(NamedTuple):
    """One bed as answered; lengths with their unit, such as ``4 m``."""

    name: str
    length: str
    width: str
    runs: str = "north-south"
    cover: str = "open ground"


class CropAnswer(NamedTuple):
    """One wished crop and the kilograms wished each year."""

    name: str
    kg: float


@dataclass(frozen=True)
class Answers:
    """What the grower answered; dates are texts such as ``12 May``, latitude in degrees, south negative."""

    title: str
    latitude: float
    last_frost: str
    first_frost: str
    first_year: int
    years: int
    people: int | None
    beds: tuple[BedAnswer, ...]
    crops: tuple[CropAnswer, ...]


def scenario_text(answers: Answers) -> str:
    """Return a commented scenario file in YAML.

    The answers are not judged here: reading the text with ``read_scenario_text`` tells what is wrong with them.
    """
    return "\n".join([*_head(answers), *_site(answers), *_beds(answers), *_household(answers), *_memory(answers)])


def _head(answers: Answers) -> Iterator[str]:
    yield "# A garden for rotasolve. Lines that begin with # are comments: change, add or delete them freely."
    yield "# An editor that knows JSON Schema can check it against rotasolve/files/schemas/scenario.json."
    yield "# Begin lines that belong together in the same column, with spaces and without tabs."
    yield "format: 1"
    yield f"title: {yaml_words(answers.title)}"
    yield ""
    yield "# The first year to plan, and how many years."
    yield f"first_year: {answers.first_year}"
    yield f"years: {answers.years}"
    yield ""


def _site(answers: Answers) -> Iterator[str]:
    yield "site:"
    yield "  latitude: " + f"{answers.latitude:g}" + "  # degrees, south of the equator with a minus"
    yield "  # half: the date that one year in two still has frost after it (spring) or before it (autumn)."
    yield "  # safe: the date that only one year in ten oversteps; add it if you know it, such as safe: 25 May."
    yield "  last_frost:"
    yield f"    half: {yaml_words(answers.last_frost)}"
    yield "  first_frost:"
    yield f"    half: {yaml_words(answers.first_frost)}"
    yield "  # If you know 12 monthly mean temperatures (January first, in degrees C), add them: start windows then"
    yield "  # follow soil and nights, and 'rotasolve water' can reckon litres."
    yield "  # climate:"
    yield "  #   mean_minima_c: [...]"
    yield "  #   mean_maxima_c: [...]"
    yield "  #   rain_mm: [...]"
    yield ""


def _beds(answers: Answers) -> Iterator[str]:
    yield "# length is the side that runs as 'runs' says: north-south or east-west. Write every length with its unit."
    yield "# cover: open ground, cold frame, fleece, low tunnel or tunnel."
    yield "# east and north (such as east: 0 m) place a bed's south-west corner: needed to judge shade between beds."
    yield "beds:"
    for bed in answers.beds:
        yield f"  - name: {yaml_words(bed.name)}"
        yield f"    length: {yaml_words(bed.length)}"
        yield f"    width: {yaml_words(bed.width)}"
        yield f"    runs: {yaml_words(bed.runs)}"
        yield f"    cover: {yaml_words(bed.cover)}"
    yield ""


def _household(answers: Answers) -> Iterator[str]:
    yield "household:"
    if answers.people is not None:
        yield f"  people: {answers.people}"
    yield "  # kg: the harvest wished each year. fresh_from and fresh_to: the months to have it fresh, such as June."
    yield "  # weight: how much it matters, 1 (nice to have) to 5 (first of all)."
    if not answers.crops:
        yield "  targets: []"
        yield ""
        return
    yield "  targets:"
    for crop in answers.crops:
        yield f"    - crop: {yaml_words(crop.name)}"
        yield f"      kg: {crop.kg!r}"
    yield ""


def _memory(answers: Answers) -> Iterator[str]:
    past = answers.first_year - 1
    yield "# What grew where in earlier years; take the # away and write your own."
    yield "# history:"
    yield f"#   - bed: {yaml_words(answers.beds[0].name) if answers.beds else 'Bed 1'}"
    yield f"#     crop: {yaml_words(answers.crops[0].name) if answers.crops else 'potato'}"
    yield f"#     year: {past}"
    yield ""
