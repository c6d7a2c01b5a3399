"""A first scenario file from a handful of answers, with comments that say how to go on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple

from rotasolve.files.yaml_entries import entry, yaml_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping


class BedAnswer(NamedTuple):
    """One bed as answered; lengths with their unit, such as ``4 m``."""

    name: str
    length: str
    width: str
    runs: str = "north-south"
    cover: str = "open ground"
    diseases: tuple[str, ...] = ()
    sun_hours: float | None = None


class FrostAnswer(NamedTuple):
    """The date that one year in two has frost after or before it, and that one year in ten has; ``""`` if unknown."""

    half: str
    safe: str = ""


class ClimateAnswer(NamedTuple):
    """Twelve monthly means, January first: nights and days in degrees C, rain in mm if it is known."""

    minima: tuple[float, ...]
    maxima: tuple[float, ...]
    rain: tuple[float, ...] = ()


@dataclass(frozen=True)
class Answers:
    """What the grower answered; dates are texts such as ``12 May``, latitude in degrees, south negative.

    Frost dates are None where they are worked out from the climate. ``eats`` and ``targets`` hold the fields of the
    household's lists, ``grew`` what stood in which bed in which garden year. ``example`` marks answers that nobody
    gave.
    """

    title: str
    latitude: float
    last_frost: FrostAnswer | None
    first_frost: FrostAnswer | None
    first_year: int
    years: int
    people: int | None
    beds: tuple[BedAnswer, ...]
    targets: tuple[Mapping[str, Any], ...] = ()
    eats: tuple[Mapping[str, Any], ...] = ()
    grew: tuple[tuple[str, str, int], ...] = ()
    climate: ClimateAnswer | None = None
    example: tuple[str, ...] = ()


def scenario_text(answers: Answers) -> str:
    """Return a commented scenario file in YAML.

    The answers are not judged here: reading the text with ``read_scenario_text`` tells what is wrong with them.
    """
    return "\n".join([*_head(answers), *_site(answers), *_beds(answers), *_household(answers), *_memory(answers)])


def _head(answers: Answers) -> Iterator[str]:
    yield "# A garden for rotasolve. Lines that begin with # are comments: change, add or delete them freely."
    yield "# An editor that knows JSON Schema can check it against rotasolve/files/schemas/scenario.json."
    yield "# Begin lines that belong together in the same column, with spaces and without tabs."
    if answers.example:
        yield f"# Taken as an example, for nobody answered: {', '.join(answers.example)}. Put your own in their place."
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
    frosts = (("last_frost", answers.last_frost), ("first_frost", answers.first_frost))
    if any(frost is not None for _, frost in frosts):
        yield "  # half: the date that one year in two still has frost after it (spring) or before it (autumn)."
        yield "  # safe: the date that only one year in ten oversteps; add it if you know it, such as safe: 25 May."
    for name, frost in frosts:
        if frost is not None:
            yield f"  {name}:"
            yield f"    half: {yaml_words(frost.half)}"
            if frost.safe:
                yield f"    safe: {yaml_words(frost.safe)}"
    if answers.climate is not None:
        yield "  # Monthly means, January first, in degrees C and mm: start windows follow soil and nights, and"
        yield "  # 'rotasolve water' reckons litres."
        yield "  climate:"
        yield f"    mean_minima_c: {_list(answers.climate.minima)}"
        yield f"    mean_maxima_c: {_list(answers.climate.maxima)}"
        if answers.climate.rain:
            yield f"    rain_mm: {_list(answers.climate.rain)}"
    else:
        yield "  # If you know 12 monthly mean temperatures (January first, in degrees C), add them: start windows then"
        yield "  # follow soil and nights, and 'rotasolve water' can reckon litres."
        yield "  # climate:"
        yield "  #   mean_minima_c: [...]"
        yield "  #   mean_maxima_c: [...]"
        yield "  #   rain_mm: [...]"
    yield ""


def _list(numbers: Iterable[float]) -> str:
    return f"[{', '.join(f'{number:g}' for number in numbers)}]"


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
        if bed.sun_hours is not None:
            yield f"    sun_hours: {bed.sun_hours:g}"
        if bed.diseases:
            yield f"    diseases: [{', '.join(yaml_words(disease) for disease in bed.diseases)}]"
    yield ""


def _household(answers: Answers) -> Iterator[str]:
    yield "household:"
    if answers.people is not None:
        yield f"  people: {answers.people}"
    yield "  # kg: the harvest wished each year. fresh_from and fresh_to: the months to have it fresh, such as June."
    yield "  # weight: how much it matters, 1 (nice to have) to 5 (first of all)."
    if answers.eats:
        yield "  # eats: the amounts that are published for one person, for all people."
        yield "  eats:"
        for eats in answers.eats:
            yield f"    - {entry(eats)}"
    if not answers.targets:
        if not answers.eats:
            yield "  targets: []"
        yield ""
        return
    yield "  targets:"
    for target in answers.targets:
        yield f"    - {entry(target)}"
    yield ""


def _memory(answers: Answers) -> Iterator[str]:
    past = answers.first_year - 1
    yield "# What grew where in earlier years."
    if answers.grew:
        yield "history:"
        for bed, crop, year in answers.grew:
            yield f"  - {entry({'bed': bed, 'crop': crop, 'year': year})}"
        yield ""
        return
    wished = [str(wish["crop"]) for wish in (*answers.targets, *answers.eats)]
    yield "# Take the # away and write your own."
    yield "# history:"
    yield f"#   - bed: {yaml_words(answers.beds[0].name) if answers.beds else 'Bed 1'}"
    yield f"#     crop: {yaml_words(wished[0]) if wished else 'potato'}"
    yield f"#     year: {past}"
    yield ""
