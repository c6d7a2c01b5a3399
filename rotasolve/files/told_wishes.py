"""A line of wishes: ``potatoes 40 kg, carrots, kale a little October-March, 10 jars of beetroot``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple

from rotasolve.files.document import quoted
from rotasolve.files.told_months import Months, take_months
from rotasolve.relations.household.wanted import kg_per_unit, per_person_kg

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.files.crop_names import CropNames

_BETWEEN = re.compile(r"\s*(?:;|,(?!\d)|,\s+|\n)\s*")
_AMOUNT = re.compile(
    r"(?<![\w.])(\d{1,6}(?:[.,]\d+)?)\s*"
    r"(kg|kilos?|kilograms?|g|grams?|lbs?|pounds?|plants?|meals?|jars?|l(?:itres?|iters?)?(?:\s+of\s+jars)?)?(?![\w])"
    r"(?:\s*(?:of|a\s+year)\b)?",
    re.IGNORECASE,
)
_WEIGHT = re.compile(r"\bweight\s*:?\s*([1-5])\b", re.IGNORECASE)
_LIKING = re.compile(r"\b(?:(a\s+)?little|few|(the\s+)?usual|normal|much|plenty|(a\s+)?lots?(\s+of)?)\b", re.IGNORECASE)
_KG_PER_POUND = 0.45359237
"""Kilograms in one pound, by the international yard and pound agreement of 1959."""


class ToldWish(NamedTuple):
    """A wish: under which list of the household it goes, ``targets`` or ``eats``, and its fields there.

    ``crop`` is the catalogue's name; the fields hold the grower's own, to be shown back.
    """

    under: str
    crop: str
    fields: Mapping[str, Any]


@dataclass(frozen=True)
class ToldWishes:
    """What could be read of a line: wishes with the words they were told in, and the faults of the others."""

    wishes: tuple[ToldWish, ...]
    words: tuple[str, ...]
    faults: tuple[str, ...]
    wrong: tuple[str, ...]


def read_wishes_line(text: str, catalogue: Catalogue, names: CropNames, people: int | None) -> ToldWishes:
    """Return all wishes of a line, and every fault of it at once.

    Parameters
    ----------
    text
        Wishes with commas between them.
    catalogue, names
        The crops, and how they may be called.
    people
        How many people eat from the garden; without that each wish needs an amount.
    """
    wishes: list[ToldWish] = []
    words: list[str] = []
    faults: list[str] = []
    wrong: list[str] = []
    for part in filter(None, _BETWEEN.split(text.strip())):
        try:
            wish = _read_wish(part, catalogue, names, people)
            if any(wish.crop == other.crop for other in wishes):
                raise ValueError(f"{wish.crop} is given twice")
        except ValueError as refusal:
            faults.append(str(refusal))
            wrong.append(part)
            continue
        wishes.append(wish)
        words.append(part)
    return ToldWishes(tuple(wishes), tuple(words), tuple(faults), tuple(wrong))


def _read_wish(text: str, catalogue: Catalogue, names: CropNames, people: int | None) -> ToldWish:
    rest, months = take_months(re.sub(r",(?=\s*\d)(?<!\d,)", " ", text))
    weight = _WEIGHT.search(rest)
    if weight:
        rest = f"{rest[: weight.start()]} {rest[weight.end() :]}"
    amount = _AMOUNT.search(rest)
    if amount:
        rest = f"{rest[: amount.start()]} {rest[amount.end() :]}"
    liking = _LIKING.search(rest)
    if liking:
        rest = f"{rest[: liking.start()]} {rest[liking.end() :]}"
    word = " ".join(rest.split()).strip(" :-")
    found = find_crop_told(word, names)
    crop = catalogue.crop(found)
    if crop.green_manure:
        raise ValueError(f"{found} is a green manure and is not harvested; allow it in the file under also_allowed")
    fields: dict[str, Any] = {"crop": word, **_months(months), **({"weight": int(weight[1])} if weight else {})}
    if amount:
        key, number = _amount(amount)
        unit = "litres of jars" if key == "litres_of_jars" else key
        if key != "kg" and kg_per_unit(crop, unit) is None:  # type: ignore[arg-type]
            raise ValueError(f"{quoted(text)}: it is not known how many kg make one of its {unit}; write kg")
        if not 0 < number <= 10_000 or (key == "plants" and number != int(number)):
            raise ValueError(f"{found}: the harvest wished must be more than 0 and at most 10,000 kg, or whole plants")
        return ToldWish("targets", found, {**fields, key: int(number) if number == int(number) else number})
    if people is None:
        raise ValueError(f'{quoted(text)} has no amount; write kg, such as "{word} 5 kg"')
    from rotasolve.domain.household import Eats

    how_much = _liking(liking[0]) if liking else "usual"
    if per_person_kg(Eats(crop=found), crop) is None:
        raise ValueError(f'no amount of {found} for one person is published; write kg, such as "{word} 5 kg"')
    return ToldWish("eats", found, {**fields, **({"how_much": how_much} if how_much != "usual" else {})})


def find_crop_told(word: str, names: CropNames) -> str:
    """Return the catalogue's name of a crop.

    Raises
    ------
    ValueError
        If there is none; the message tells the nearest.
    """
    if not word:
        raise ValueError("a crop's name is missing")
    found = names.find(word)
    if found is None:
        raise ValueError("; ".join(names.trouble(word)))
    return found


def _months(months: Months | None) -> dict[str, str]:
    return {} if months is None else {"fresh_from": months.first, "fresh_to": months.last}


def _liking(word: str) -> str:
    word = word.lower()
    if "little" in word or "few" in word:
        return "little"
    return "usual" if "usual" in word or "normal" in word else "much"


def _amount(match: re.Match[str]) -> tuple[str, float]:
    """Return the field that an amount goes into, and the number."""
    number, unit = float(match[1].replace(",", ".")), (match[2] or "kg").lower()
    if unit.startswith(("plant", "meal")):
        return ("plants" if unit.startswith("plant") else "meals"), number
    if unit.startswith(("jar", "l")) and not unit.startswith("lb"):
        return "litres_of_jars", number
    if unit.startswith("g"):
        return "kg", round(number / 1000, 3)
    if unit.startswith(("lb", "pound")):
        return "kg", round(number * _KG_PER_POUND, 2)
    return "kg", number
