"""Changes of a household's wishes told in lines: what it eats, what it must have, and what may grow besides."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from rotasolve.files.document import quoted
from rotasolve.files.told_line import Told
from rotasolve.files.told_wishes import find_crop_told, read_wishes_line
from rotasolve.files.yaml_edits import Add, Edit, Put, Take

_AMOUNT = re.compile(r"(\d+(?:\.\d+)?)\s*(kg|plants?)?(?!\w)", re.IGNORECASE)
_UNITS = {"kg", "plants", "meals", "litres_of_jars", "kg_a_week", "kg_per_person", "how_much"}
"""The fields that say how much of a crop is wished."""
_YEAR = re.compile(r"\b(?:in\s+)?((?:19|20|21)\d{2})\b")


def _wish(told: Told) -> list[Edit]:
    people = (told.data.get("household") or {}).get("people")
    found = read_wishes_line(told.words, told.catalogue, told.names, people)
    if found.faults:
        raise ValueError("\n".join(found.faults))
    edits: list[Edit] = []
    for wish in found.wishes:
        under, number = next(iter(_places_of(told, wish.crop)), (wish.under, None))
        if number is None:
            edits.append(Add(("household", wish.under), wish.fields))
        elif not _UNITS & wish.fields.keys() or (
            under == wish.under and not (_UNITS & told.household(under)[number].keys()) - wish.fields.keys()
        ):
            # Of a wish that is there already, what is not told stays.
            path = ("household", under, number)
            edits += [Put((*path, field), value) for field, value in wish.fields.items() if field != "crop"]
        else:
            old = {f: v for f, v in told.household(under)[number].items() if f in ("fresh_from", "fresh_to", "weight")}
            edits += [Take(("household", under), number), Add(("household", wish.under), {**old, **wish.fields})]
    return edits


def _places_of(told: Told, crop: str) -> list[tuple[str, int]]:
    return [
        (under, number)
        for under in ("targets", "eats")
        for number, wish in enumerate(told.household(under))
        if told.names.find(str(wish.get("crop"))) == crop
    ]


def _no_wish(told: Told) -> list[Edit]:
    edits: list[Edit] = []
    crops = [find_crop_told(word.strip(), told.names) for word in told.words.split(",")]
    places = [(crop, _places_of(told, crop)) for crop in crops]
    for crop, found in places:
        if not found:
            raise ValueError(f"there is no wish for {crop}")
        edits += [Take(("household", under), number) for under, number in found]
    # From the end, so that numbers in front stay.
    return sorted(edits, key=lambda edit: -edit.number)  # type: ignore[union-attr]


def _must(told: Told) -> list[Edit]:
    rest = re.sub(r"^have\s+", "", told.words, flags=re.IGNORECASE)
    fields: dict[str, Any] = {}
    for number in sorted(range(len(told.beds)), key=lambda n: -len(told.beds[n])):
        match = re.search(rf"\s+in\s+{re.escape(told.beds[number])}(?!\w)", rest, re.IGNORECASE)
        if match:
            fields["bed"], rest = told.beds[number], rest[: match.start()] + rest[match.end() :]
            break
    if year := _YEAR.search(rest):
        fields["year"], rest = int(year[1]), rest[: year.start()] + rest[year.end() :]
    amount = _AMOUNT.search(rest)
    if amount is None:
        raise ValueError(f"{quoted(told.words)} says no amount; write it as 10 leeks, or 5 kg kale in gate bed")
    crop = find_crop_told((rest[: amount.start()] + rest[amount.end() :]).strip(" ,:"), told.names)
    in_kg = (amount[2] or "").lower() == "kg"
    what = {"kg": float(amount[1])} if in_kg else {"plants": int(float(amount[1]))}
    return [Add(("household", "must_have"), {"crop": crop, **what, **fields})]


def _allow(told: Told) -> list[Edit]:
    crops = [find_crop_told(word.strip(), told.names) for word in told.words.split(",") if word.strip()]
    return [Add(("also_allowed",), crop) for crop in crops]


WISH_WORDS: dict[str, Callable[[Told], list[Edit]]] = {"wish": _wish, "must have": _must, "allow": _allow}
WISH_TAKEN_OUT: dict[str, Callable[[Told], list[Edit]]] = {"wish": _no_wish}
