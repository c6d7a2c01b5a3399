"""Numbers, dates, counts and names as a page says them, each with its unit."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from rotasolve.domain import strips
from rotasolve.domain.measures import CM_PER_UNIT
from rotasolve.domain.seasons import MONTHS, garden_year
from rotasolve.domain.signs import clean as clean
from rotasolve.domain.spelling import spelling_key

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.plan import Harvest
    from rotasolve.views.words.look import Look

_PLURALS = {"rule is": "rules are", "bed and year": "beds and years"}
TIED = "\u00a0"
"""A blank at which no line is broken, as between a number and its unit; it is printed as a plain blank."""


def plain(text: str) -> str:
    """Return a text with plain blanks only, as programs read it."""
    return text.replace(TIED, " ")


def say_count(number: int, thing: str) -> str:
    """Say a count: ``1 plant``, ``2 plants``, ``1,204 points``."""
    return f"{number:,} {thing if number == 1 else plural(thing)}"


def plural(thing: str) -> str:
    """Return the plural of a countable word."""
    return _PLURALS.get(thing, f"{thing}s")


def say_number(value: float, digits: int = 1) -> str:
    """Say a number with at most ``digits`` decimals and no needless zeros: ``1,204``, ``0.5``, ``3``."""
    text = f"{value:,.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def say_share(share: float) -> str:
    """Say a share of 1 in per cent with one decimal: ``3.1 %``; what is not quite nothing never rounds to nothing."""
    percent = share * 100
    return f"less than 0.1{TIED}%" if 0 < percent < 0.05 else f"{say_number(percent)}{TIED}%"


def say_kg(kg: float) -> str:
    """Say a weight in kilograms, small ones more finely: ``25 kg``, ``3.4 kg``, ``0.25 kg``."""
    return f"{kg_number(kg)}{TIED}kg"


def kg_number(kg: float) -> str:
    """Say the number of a weight in kilograms, as ``say_kg`` does."""
    return say_number(kg, 0 if kg >= 20 else 1 if kg >= 1 else 2)


def say_counted(kg: float, counted_in: str, kg_per_unit: float) -> str:
    """Say a weight, and beside it the number of plants, meals or litres it is: ``4.2 kg (60 meals)``."""
    if counted_in == "kg" or kg_per_unit <= 0:
        return say_kg(kg)
    amount = kg / kg_per_unit
    words = counted_in.replace(" ", TIED)
    return f"{say_kg(kg)} ({say_number(amount, 0 if amount >= 10 else 1)}{TIED}{words})"


def say_crop(name: str, words: Mapping[str, str]) -> str:
    """Say a crop in the grower's own word, with the catalogue's name behind it if that is another one.

    ``words`` has the own words by the catalogue's names (``Scenario.words``).
    """
    own = words.get(name, name)
    return own if spelling_key(own) == spelling_key(name) else f"{own} ({name})"


def say_yield(harvest: Harvest) -> str:
    """Say a harvest of a usual year with its range from a poor to a good one: ``12 kg (7 to 20)``."""
    spread = _kg_spread(harvest)
    return say_kg(harvest.typical_kg) + (f" ({spread})" if spread != kg_number(harvest.typical_kg) else "")


def say_kg_range(harvest: Harvest) -> str:
    """Say a harvest from a poor to a good year: ``5.2 to 11 kg``."""
    return f"{_kg_spread(harvest)}{TIED}kg"


def _kg_spread(harvest: Harvest) -> str:
    low, high = kg_number(harvest.low_kg), kg_number(harvest.high_kg)
    return high if low == high else f"{low}{TIED}to{TIED}{high}"


def say_length(cm: float, look: Look) -> str:
    """Say a length in centimetres below 1 m, in metres above, or in inches below 2 feet and feet above."""
    if look.inches:
        inches = cm / CM_PER_UNIT["in"]
        feet, rest = divmod(round(inches, 1), 12)
        if feet < 2:
            return f"{say_number(inches)}{TIED}in"
        return f"{feet:.0f}{TIED}ft" + (f"{TIED}{say_number(rest)}{TIED}in" if rest >= 0.05 else "")
    return f"{say_number(cm)}{TIED}cm" if abs(cm) < 100 else f"{say_number(cm / 100, 2)}{TIED}m"


def say_whole_cm(cm: float, look: Look) -> str:
    """Say a height or a shadow in whole centimetres whatever its size, or in inches and feet."""
    return say_length(cm, look) if look.inches else f"{cm:.0f}{TIED}cm"


def say_short(day: date) -> str:
    """Say a day without its year: ``12 May``."""
    return f"{day.day} {MONTHS[day.month - 1]}"


def say_degrees(degrees: float) -> str:
    """Say a temperature: ``12.8 degC``."""
    return f"{round(degrees, 1):g} degC"


def say_date(day: date, year: int, south: bool) -> str:
    """Say a day as ``12 May``, with its calendar year if it lies outside the garden year ``year``."""
    short = f"{day.day}{TIED}{MONTHS[day.month - 1][:3]}"
    return short if garden_year(day, south) == year else f"{short} {day.year}"


def say_span(first: date, last: date, year: int, south: bool, look: Look) -> str:
    """Say a span of days: ``12 May - 3 Jun``."""
    return f"{say_date(first, year, south)}{TIED}{look.dash} {say_date(last, year, south)}"


def say_runs(numbers: Iterable[int], look: Look) -> str:
    """Say whole numbers as runs, with the dash that the page can show."""
    return strips.say_runs(numbers, look.dash)


def sentence(text: str) -> str:
    """Return a text that begins with a capital letter and ends with a full stop."""
    text = clean(text).strip()
    if not text:
        return ""
    return text[0].upper() + text[1:] + ("" if text[-1] in ".!?" else ".")
