"""The time grid: half months for the solver, days for the calendar, garden years for rotation.

A garden year is the calendar year in the northern hemisphere. In the southern hemisphere it runs from
1 July to 30 June and carries the year in which it began, so that one summer stays in one garden year.
"""

from __future__ import annotations

import calendar
import re
from datetime import date
from typing import Annotated

from pydantic import BeforeValidator, Field, WithJsonSchema

from rotasolve.errors import Unusable

PERIODS_PER_YEAR = 24
GROWING_MONTHS_NORTH = range(4, 10)
"""April to September, in which roots grow in a temperate garden; in the south the other six months."""
HOST_DAYS = 30
"""A crop that takes no more days than these of a growing season is no host of that garden year: a judgement, for no
source counts days. Handbooks give leeks and garlic one year of a rotation although both stand over New Year (RHS-3,
MAFF-1945), and these 30 days let leeks stand to the end of April and garlic be set from September on."""
MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
# Not from the calendar module: its names change with the language set on the machine.
_MONTH_NUMBER = {name.lower()[:3]: number for number, name in enumerate(MONTHS, start=1)}
_DAY_MONTH = re.compile(r"^\s*(\d{1,2})\.?\s+([A-Za-z]+)\.?\s*$")
_MONTH_DAY = re.compile(r"^\s*([A-Za-z]+)\.?\s+(\d{1,2})\s*$")
_NUMERIC = re.compile(r"^\s*(\d{1,2})-(\d{1,2})\s*$")


def period_of(day: date) -> int:
    """Return the absolute half month that holds ``day`` (0 = first half of January of year 0)."""
    return day.year * PERIODS_PER_YEAR + (day.month - 1) * 2 + (day.day > 15)


def first_day(period: int) -> date:
    """Return the first day (1st or 16th) of an absolute half month."""
    year, rest = divmod(period, PERIODS_PER_YEAR)
    return date(year, rest // 2 + 1, 16 if rest % 2 else 1)


def last_day(period: int) -> date:
    """Return the last day of an absolute half month."""
    year, rest = divmod(period, PERIODS_PER_YEAR)
    month = rest // 2 + 1
    return date(year, month, calendar.monthrange(year, month)[1] if rest % 2 else 15)


def year_start(year: int, south: bool) -> date:
    """Return the first day of a garden year."""
    return date(year, 7 if south else 1, 1)


def year_end(year: int, south: bool) -> date:
    """Return the last day of a garden year."""
    return date(year + 1, 6, 30) if south else date(year, 12, 31)


def years_later(day: date, years: int) -> date:
    """Return the same day so many years later; 28 February where there is no 29th."""
    try:
        return day.replace(year=day.year + years)
    except ValueError:
        return day.replace(year=day.year + years, day=28)


def winter_months(south: bool) -> tuple[int, ...]:
    """Return the months of the winter in order: November to March, May to September in the south."""
    return (5, 6, 7, 8, 9) if south else (11, 12, 1, 2, 3)


def garden_year(day: date, south: bool) -> int:
    """Return the garden year that holds ``day``."""
    return day.year - 1 if south and day.month < 7 else day.year


def say_year(year: int, south: bool) -> str:
    """Say a garden year: ``2027`` in the north, ``2027/28`` in the south."""
    return f"{year}/{(year + 1) % 100:02d}" if south else str(year)


def _month_number(word: str) -> int:
    """Return 1 to 12 for a month's name or its first letters, at least three; 0 for any other word."""
    number = _MONTH_NUMBER.get(word.lower()[:3], 0)
    return number if number and MONTHS[number - 1].lower().startswith(word.lower()) else 0


def parse_day_of_year(value: object) -> tuple[int, int]:
    """Return (month, day) for ``"12 May"``, ``"May 12"`` or ``"05-12"``.

    29 February is refused: a yearly date must exist in every year.

    Raises
    ------
    ValueError
        If the text is not a day that every year has.
    """
    if isinstance(value, tuple | list) and len(value) == 2 and all(isinstance(part, int) for part in value):
        month, day = value
    else:
        text = str(value)
        if match := _DAY_MONTH.match(text):
            day, month = int(match[1]), _month_number(match[2])
        elif match := _MONTH_DAY.match(text):
            day, month = int(match[2]), _month_number(match[1])
        elif match := _NUMERIC.match(text):
            month, day = int(match[1]), int(match[2])
        else:
            raise Unusable(f"{text!r} is not a day of the year", "write it as 12 May")
    if not 1 <= month <= 12 or not 1 <= day <= calendar.monthrange(2001, month)[1]:
        raise Unusable(f"{value!r} is not a day that every year has", "write it as 12 May")
    return month, day


def parse_date(value: object) -> date:
    """Return the date for ``"2027-05-12"`` or ``"12 May 2027"``.

    Raises
    ------
    ValueError
        If the text is not a date, or lies outside 1950 to 2200.
    """
    if isinstance(value, date):
        found = value
    else:
        text = str(value).strip()
        try:
            if match := re.match(r"^(.*[^\s,])[\s,]+(\d{4})$", text):
                found = date(int(match[2]), *parse_day_of_year(match[1]))
            else:
                found = date.fromisoformat(text)
        except ValueError:
            raise Unusable(f"{text!r} is not a date", "write it as 2027-05-12") from None
    if not 1950 <= found.year <= 2200:
        raise Unusable(f"the year {found.year} lies outside 1950 to 2200", f"check the date {value}")
    return found


def parse_month(value: object) -> int:
    """Return 1 to 12 for a month's name, or its first three letters.

    Raises
    ------
    ValueError
        If the text is no month.
    """
    if isinstance(value, int) and not isinstance(value, bool) and 1 <= value <= 12:
        return value
    number = _month_number(str(value).strip())
    if not number:
        raise Unusable(f"{value!r} is not a month", "write it as June or Jun")
    return number


def say_day(day: date) -> str:
    """Say a date as ``12 May 2027``."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


_DAY_TEXT = WithJsonSchema({"type": "string", "description": "a day of the year, such as 12 May"})
DayOfYear = Annotated[tuple[int, int], BeforeValidator(parse_day_of_year), _DAY_TEXT]
"""(month, day), a day that every year has."""
Day = Annotated[date, BeforeValidator(parse_date), WithJsonSchema({"type": "string", "format": "date"})]
"""A date, 1950 to 2200."""
YearNumber = Annotated[int, Field(ge=1950, le=2200)]
"""A garden year that dates can be written in."""
Month = Annotated[int, BeforeValidator(parse_month), WithJsonSchema({"type": "string", "description": "June or Jun"})]
"""A month, 1 to 12."""
