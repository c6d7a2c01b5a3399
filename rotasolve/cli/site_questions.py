"""What ``begin`` asks of the garden as a whole: its name, latitude and frosts, which years, how many people."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any, NamedTuple

from rotasolve.cli import answers as reading
from rotasolve.cli.conversation import Step
from rotasolve.domain.seasons import MONTHS, say_year
from rotasolve.files.first_scenario import ClimateAnswer, FrostAnswer

CLIMATE = "climate"
"""The answer to a question for frost dates that has them worked out."""
_CLIMATE_WORDS = frozenset({CLIMATE, "estimate", "estimated", "work out", "work it out", "unknown", "don't know"})
_SAFE = re.compile(r"\s*(?:[,;(]|\bsafe\b|\band\b)[\s,;(]*(?:safe\b)?\s*:?\s*", re.IGNORECASE)
_NUMBER = re.compile(r"[-+\u2212]?\d+(?:\.\d+)?")
_YEARS = re.compile(
    r"^\s*(\d{4})(?:/\d{2})?\s*(?:(?:-|\u2013|to|until)\s*(\d{4})(?:/\d{2})?|[,;:]?\s*(?:for\s+)?(\d{1,2})\s*(?:years?)?)?\s*$",
    re.IGNORECASE,
)

_TITLE_HELP = "A name for lists and prints, such as 'Plot 14'. It changes nothing in the plan."
_LATITUDE_HELP = """\
Degrees north or south of the equator: 52.5, or -41 or 41 S in the south. Any map on a screen shows
it for the place you point at, an atlas at its edge. It decides the sun, the seasons and which side
of a bed is shaded."""
_FROST_HELP = """\
The average date: one year in two has frost after it in spring (before it in autumn). Ask at the
weather service (its page of climate normals for the nearest station), an allotment society, or a
neighbour who writes it down.
Write a second date if you know it: '5 May, safe 20 May' - only one year in ten has frost after the
safe date.
Write 'climate' to have both dates worked out from the monthly temperatures, which every weather
service publishes."""
_MEANS_HELP = """\
Twelve numbers, January first, in degrees C, such as -1 -0.8 0.4 2.9 6.3 9.3 11.2 10.9 8.4 5 1.6
-0.4. Weather services publish them as climate normals."""
_RAIN_HELP = "Twelve numbers in mm, January first: then 'rotasolve water' can say how many litres each bed needs."
_YEARS_HELP = """\
The first year and how long: 2027 to 2029, or 2027, 3 years. Three or four years let rest and
rotation show; you can plan anew every year from what really happened."""
_PEOPLE_HELP = "How many eat from the garden: amounts that are published for one person are counted for so many."


class Years(NamedTuple):
    """The first garden year, and how many; None if that is still to be asked."""

    first: int
    number: int | None


def site_steps(told: Mapping[str, Any], today: date, years_given: bool = False) -> Iterator[Step]:
    """Yield the questions about the site, the years and the people, as ``conversation.Steps``.

    ``years_given`` says that their number is told beside the first of them.
    """
    yield Step("title", "What is your garden called?", reading.read_title, _TITLE_HELP, "--title", "My garden")
    words = "At which latitude does it lie, in degrees (south: minus)?"
    yield Step("latitude", words, reading.read_latitude, _LATITUDE_HELP, "--latitude", example="52")
    latitude = told["latitude"] or 0.0
    south = latitude < 0
    words = (
        "When is the last frost in spring, on average (such as 5 May)? 'climate' works it out, '?' says where to look."
    )
    example = "5 October" if south else "5 May"
    yield Step("last_frost", words, _frost_reader(latitude, spring=True), _FROST_HELP, "--last-frost", example=example)
    if told["last_frost"] == CLIMATE:
        yield from _climate_steps(told, latitude)
    else:
        words, example = "When is the first frost in autumn, on average?", "5 May" if south else "15 October"
        read = _frost_reader(latitude, spring=False)
        yield Step("first_frost", words, read, _FROST_HELP, "--first-frost", example=example)
        if told["first_frost"] == CLIMATE:
            yield from _climate_steps(told, latitude)
    first = reading.proposed_year(today, latitude)
    words = "Which years shall the plan cover?"
    proposal = f"{say_year(first, south)} to {say_year(first + 2, south)}"
    yield Step("first_year", words, read_years, _YEARS_HELP, "--first-year", proposal, proposal)
    if told["first_year"] is None or told["first_year"].number is None or years_given:
        read = reading.read_whole(1, 10, "the number of years")
        yield Step("years", "How many years shall it cover?", read, _YEARS_HELP, "--years", "3", "3")
    yield Step("people", "How many people eat from it?", _read_people, _PEOPLE_HELP, "--people", "2", "2")


def _climate_steps(told: Mapping[str, Any], latitude: float) -> Iterator[Step]:
    words = "The mean of the lowest temperatures of each month, in degrees C, 12 numbers, January first?"
    yield Step("minima", words, _read_means, _MEANS_HELP, "--last-frost")

    def read_days(text: str) -> tuple[float, ...]:
        days = _read_means(text)
        worked_out(latitude, ClimateAnswer(told["minima"], days))
        return days

    def say(days: tuple[float, ...]) -> str:
        return worked_out(latitude, ClimateAnswer(told["minima"], days))

    words = "The mean of the highest temperatures of each month, in degrees C?"
    yield Step("maxima", words, read_days, _MEANS_HELP, "--last-frost", echo=say)
    yield Step("rain", "The rain of each month, in mm (Enter: not known)?", _read_rain, _RAIN_HELP, "--last-frost", "")


def worked_out(latitude: float, climate: ClimateAnswer) -> str:
    """Say the frost dates that follow from a climate.

    Raises
    ------
    ValueError
        If none do, or the numbers cannot be a climate.
    """
    from pydantic import ValidationError

    from rotasolve.domain.climate import Climate
    from rotasolve.domain.site import Site
    from rotasolve.errors import GardenFault
    from rotasolve.relations.season.frosts import frosts_of

    try:
        means = Climate(mean_minima_c=climate.minima, mean_maxima_c=climate.maxima)
        dates = frosts_of(Site(latitude=latitude, climate=means))
    except (ValidationError, GardenFault) as refusal:
        text = str(refusal.errors()[0]["msg"]) if isinstance(refusal, ValidationError) else str(refusal)
        raise ValueError(text.removeprefix("Value error, ")) from None
    last, first = (f"{frost.half[1]} {MONTHS[frost.half[0] - 1]}" for frost in dates)
    return f"Worked out: the last frost about {last}, the first about {first}, in one year of two."


def _frost_reader(latitude: float, spring: bool) -> Any:
    from rotasolve.domain.seasons import parse_day_of_year

    # Spring is the first half of the year in the north and the second in the south.
    months = range(1, 8) if (latitude >= 0) == spring else range(7, 13)

    def read(text: str) -> FrostAnswer | str:
        if " ".join(text.casefold().split()) in _CLIMATE_WORDS:
            return CLIMATE
        days = [reading.read_day_of_year(part) for part in _SAFE.split(text.strip(" )")) if part.strip()]
        if not 1 <= len(days) <= 2:
            raise ValueError(f"'{text}' is not one date, or two; write 5 May, or 5 May, safe 20 May")
        half = parse_day_of_year(days[0])
        if latitude and half[0] not in months and not (not spring and latitude < 0 and half[0] in range(1, 8)):
            where, season = "north" if latitude > 0 else "south", "spring" if spring else "autumn"
            raise ValueError(f"{days[0]} is not in {season} in the {where}; write the date in {season}")
        if len(days) == 2 and (parse_day_of_year(days[1]) > half) != spring:
            order = "after" if spring else "before"
            raise ValueError(f"the safe date lies {order} the average one: {days[1]} does not; write both again")
        return FrostAnswer(*days)

    return read


def _read_means(text: str) -> tuple[float, ...]:
    # A decimal comma stands between figures, a comma between numbers before a space.
    numbers = [float(word.replace("\u2212", "-")) for word in _NUMBER.findall(re.sub(r"(?<=\d),(?=\d)", ".", text))]
    if len(numbers) != 12:
        raise ValueError(f"these are {len(numbers)} numbers; write 12, one for each month, with spaces between them")
    if not all(-60 <= number <= 60 for number in numbers):
        raise ValueError("a monthly mean lies between -60 and 60 degrees C")
    return tuple(numbers)


def _read_rain(text: str) -> tuple[float, ...]:
    if not text.strip():
        return ()
    numbers = [float(word) for word in _NUMBER.findall(text)]
    if len(numbers) != 12 or not all(0 <= number <= 5000 for number in numbers):
        raise ValueError("write 12 numbers from 0 to 5000, the mm of each month, with spaces between them")
    return tuple(numbers)


def _read_people(text: str) -> int | None:
    """Return how many people eat from the garden, None if nobody said."""
    return reading.read_whole(1, 200, "the number of people")(text) if text.strip() else None


def read_years(text: str) -> Years:
    """Return the years that ``2027``, ``2027 to 2029`` or ``2027, 3 years`` mean.

    Raises
    ------
    ValueError
        If they are no years to plan.
    """
    match = _YEARS.match(text)
    if match is None:
        raise ValueError(f"'{text}' is not a year; write 2027, 2027 to 2029, or 2027, 3 years")
    first = reading.read_whole(1960, 2180, "the year")(match[1])
    if match[2] is None and match[3] is None:
        return Years(first, None)
    count = int(match[2]) - first + 1 if match[2] else int(match[3])
    return Years(first, reading.read_whole(1, 10, "the number of years")(str(max(count, 0))))
