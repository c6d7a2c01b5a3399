"""Changes of the ground told in lines: beds, what grew, stands or lies in them, and what casts shade on them."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import Any

from rotasolve.domain.seasons import garden_year, parse_date
from rotasolve.files.crop_names import fold
from rotasolve.files.document import quoted
from rotasolve.files.told_beds import is_direction, read_bed_line, read_runs
from rotasolve.files.told_line import Told, bed_and_rest, days_in
from rotasolve.files.told_past import read_past_line
from rotasolve.files.told_size import HINT, SIZE, read_size
from rotasolve.files.told_wishes import find_crop_told
from rotasolve.files.yaml_edits import Add, Edit, Put, Take

KINDS = ("hedge", "fence", "wall", "tree", "shed")
"""The obstacles that a line may tell of."""
_LENGTH = r"(\d+(?:\.\d+)?\s*(?:cm|mm|m|in|ft)\b)"
_HIGH = re.compile(rf"{_LENGTH}\s+(?:high|tall)", re.IGNORECASE)
_ACROSS = re.compile(rf"{_LENGTH}\s+(?:across|wide|broad)", re.IGNORECASE)
_OBSTACLE_HINTS = (
    "north side: 10 x 0.6 m, 2 m high, e-w, east 0 m, north 8 m",
    "old apple: 4 m across, 5 m high, east 3 m, north 9 m",
)
_PLACE = re.compile(r"\b(east|north)\s*:?\s*(-?\d+(?:\.\d+)?\s*[a-zA-Z\"']+)")


def _bed(told: Told) -> list[Edit]:
    diseases = [one.name for one in told.catalogue.pathogens]
    bed = read_bed_line(told.words, diseases, told.beds)
    fields: dict[str, Any] = {"runs": bed.runs, "cover": bed.cover, "sun_hours": bed.sun_hours}
    if bed.size is not None:
        fields = {"length": bed.size.length, "width": bed.size.width, **fields}
    fields = {field: value for field, value in fields.items() if value is not None}
    number = next((n for n, name in enumerate(told.beds) if bed.name and fold(name) == fold(bed.name)), None)
    if number is None:
        if bed.size is None or bed.name is None:
            raise ValueError(f"a new bed needs a name and its size; write it as gate bed: 6 x 1.2 m, or {HINT}")
        return [Add(("beds",), {"name": bed.name, **fields, **({"diseases": bed.diseases} if bed.diseases else {})})]
    edits: list[Edit] = [Put(("beds", number, field), value) for field, value in fields.items()]
    return [*edits, *_diseases(told, number, bed.diseases)] if bed.diseases else edits


def _diseases(told: Told, number: int, diseases: Sequence[str]) -> list[Edit]:
    before = told.data["beds"][number].get("diseases") or []
    return [Put(("beds", number, "diseases"), list(dict.fromkeys([*before, *diseases])))]


def _disease(told: Told) -> list[Edit]:
    number, rest = bed_and_rest(told)
    return _diseases(told, number, [word.strip() for word in rest.split(",") if word.strip()])


def _place(told: Told) -> list[Edit]:
    number, rest = bed_and_rest(told)
    found = {match[1].lower(): match[2] for match in _PLACE.finditer(rest)}
    if len(found) != 2:
        raise ValueError(f"{quoted(rest)} does not say where the bed lies; write it as east 2 m, north 0 m")
    return [Put(("beds", number, field), value) for field, value in found.items()]


def _grew(told: Told) -> list[Edit]:
    number, rest = bed_and_rest(told)
    grew = read_past_line(rest, told.names, told.first_year - 1)
    old = {
        (fold(str(p.get("bed"))), told.names.find(str(p.get("crop"))), p.get("year"))
        for p in told.data.get("history") or ()
    }
    bed = told.beds[number]
    new = [one for one in grew if (fold(bed), one.crop, one.year) not in old]
    return [Add(("history",), {"bed": bed, "crop": one.crop, "year": one.year}) for one in new]


def _no_grew(told: Told) -> list[Edit]:
    number, rest = bed_and_rest(told)
    gone = set(read_past_line(rest, told.names, told.first_year - 1))
    found = [
        n
        for n, past in enumerate(told.data.get("history") or ())
        if past.get("bed") == told.beds[number] and (told.names.find(str(past.get("crop"))), past.get("year")) in gone
    ]
    if not found:
        raise ValueError(f"the file does not say that this grew in {told.beds[number]}")
    return [Take(("history",), n) for n in reversed(found)]


def _no_bed(told: Told) -> list[Edit]:
    number, _ = bed_and_rest(told)
    name = told.beds[number]
    for field in ("history", "pinned", "manure", "closed", "seen"):
        if any(isinstance(one, dict) and one.get("bed") == name for one in told.data.get(field) or ()):
            raise ValueError(f"{quoted(name)} is named under '{field}': take it out there first")
    return [Take(("beds",), number)]


def _manure(told: Told) -> list[Edit]:
    number, rest = bed_and_rest(told)
    return [Add(("manure",), {"bed": told.beds[number], "spread": parse_date(day)}) for day in days_in(told, rest)]


def _closed(told: Told) -> list[Edit]:
    number, rest = bed_and_rest(told)
    fields = zip(("since", "until"), map(parse_date, days_in(told, rest)), strict=False)
    return [Add(("closed",), {"bed": told.beds[number], **dict(fields)})]


def _stands(told: Told) -> list[Edit]:
    """Tell of what is in the ground already: fixed in the plan, or history that lasts if it is cleared before it."""
    number, rest = bed_and_rest(told)
    days = [parse_date(day) for day in days_in(told, rest)]
    word = re.split(r"\b(?:since|from|sown|planted|set out|until|to)\b|,|\d", rest, maxsplit=1, flags=re.IGNORECASE)[0]
    crop = find_crop_told(word.strip(" :,"), told.names)
    if len(days) == 1:
        year = garden_year(parse_date(days[0]), told.south)
        return (
            [Add(("pinned",), {"bed": told.beds[number], "crop": crop, "start": days[0]})]
            if (year >= told.first_year)
            else [Add(("history",), {"bed": told.beds[number], "crop": crop, "year": year, "until": days[0]})]
        )
    return [Add(("pinned",), {"bed": told.beds[number], "crop": crop, "start": days[0], "until": days[1]})]


def _obstacle(kind: str) -> Callable[[Told], list[Edit]]:
    """Return the reader of an obstacle's line, such as ``north hedge: 10 x 0.6 m, 2 m high, east 0 m, north 8 m``."""

    def add(told: Told) -> list[Edit]:
        name, _, rest = told.words.partition(":")
        place = {match[1].lower(): match[2] for match in _PLACE.finditer(rest)}
        rest, size = _PLACE.sub("", rest), SIZE.search(rest)
        height, across = _HIGH.search(rest), _ACROSS.search(rest)
        if not name.strip() or len(place) != 2 or height is None or not (size or across):
            raise ValueError(
                f"{quoted(told.words)} does not say all of a {kind}; write it as {_OBSTACLE_HINTS[kind == 'tree']}"
            )
        fields: dict[str, Any] = {"name": name.strip(), "kind": kind, **place, "height": height[1]}
        if across is not None and kind == "tree":
            fields["diameter"] = across[1]
        elif size is not None:
            fields["length"], fields["width"] = read_size(size[1], size[2])
        runs = next((read_runs(part) for part in rest.split(",") if is_direction(part)), None)
        return [Add(("obstacles",), {**fields, **({"runs": runs} if runs else {})})]

    return add


def _no_obstacle(told: Told) -> list[Edit]:
    for number, one in enumerate(told.data.get("obstacles") or ()):
        if fold(str(one.get("name"))) == fold(told.words):
            return [Take(("obstacles",), number)]
    raise ValueError(f"there is no obstacle {quoted(told.words)}")


GROUND_WORDS: dict[str, Callable[[Told], list[Edit]]] = {
    "bed": _bed,
    "grew": _grew,
    "disease": _disease,
    "manure": _manure,
    "closed": _closed,
    "stands": _stands,
    "place": _place,
    **{kind: _obstacle(kind) for kind in KINDS},
}
GROUND_TAKEN_OUT: dict[str, Callable[[Told], list[Edit]]] = {
    "grew": _no_grew,
    "bed": _no_bed,
    **dict.fromkeys(KINDS, _no_obstacle),
}
