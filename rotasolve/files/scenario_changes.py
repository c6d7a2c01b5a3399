"""Changes of a scenario told in lines: ``bed gate bed: 6 x 1.2 m``, ``wish carrots 20 kg``, ``no wish kale``.

A line becomes edits of the file's text (``files.yaml_edits``); the file is then read again, so that whatever is wrong
with a change is told as in any scenario.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from rotasolve.domain.said_days import SAID, parse_said_day
from rotasolve.domain.seasons import garden_year, parse_date, year_start
from rotasolve.errors import GardenFault
from rotasolve.files.crop_names import CropNames, fold
from rotasolve.files.document import quoted
from rotasolve.files.scenarios import read_scenario_text
from rotasolve.files.told_beds import read_bed_line
from rotasolve.files.told_past import read_past_line
from rotasolve.files.told_size import HINT
from rotasolve.files.told_wishes import find_crop_told, read_wishes_line
from rotasolve.files.wording import did_you_mean
from rotasolve.files.yaml_edits import Add, Edit, Put, Take, edited
from rotasolve.files.yaml_text import read_yaml

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.catalogue import Catalogue

_PLACE = re.compile(r"\b(east|north)\s*:?\s*(-?\d+(?:\.\d+)?\s*[a-zA-Z\"']+)")
_AMOUNT = re.compile(r"(\d+(?:\.\d+)?)\s*(kg|plants?)?(?!\w)", re.IGNORECASE)
_UNITS = {"kg", "plants", "meals", "litres_of_jars", "kg_a_week", "kg_per_person", "how_much"}
"""The fields that say how much of a crop is wished."""
_YEAR = re.compile(r"\b(?:in\s+)?((?:19|20|21)\d{2})\b")


class _Told(NamedTuple):
    """A line's words behind its first one, and what they may speak of."""

    words: str
    data: dict[str, Any]
    catalogue: Catalogue
    names: CropNames
    today: date

    @property
    def beds(self) -> list[str]:
        """The names of the beds."""
        return [str(bed.get("name")) for bed in self.data.get("beds") or () if isinstance(bed, dict)]

    @property
    def first_year(self) -> int:
        """The first planned garden year."""
        return int(self.data["first_year"])

    @property
    def south(self) -> bool:
        """Whether the garden lies south of the equator."""
        return float(self.data["site"]["latitude"]) < 0

    def household(self, field: str) -> list[Any]:
        """Return a list of the household."""
        return (self.data.get("household") or {}).get(field) or []


def changed_by_lines(text: str, name: str, lines: Sequence[str], catalogue: Catalogue, today: date) -> str:
    """Return the text of a scenario file with what some lines tell added or changed.

    Parameters
    ----------
    text, name
        The file and its name for messages.
    lines
        Each begins with one of ``WORDS``, or with ``no`` and one of ``TAKEN_OUT``.
    catalogue
        The crops and diseases that may be named.
    today
        The day on which they are told.

    Raises
    ------
    GardenFault
        If a line is not understood.
    FileTrouble
        If the file is written in so unusual a way that it cannot be changed.
    InputFault
        If the file has faults, before or after the change.
    """
    names = CropNames(catalogue.crops)
    if lines:
        read_scenario_text(text, name, catalogue)
    for line in lines:
        kind, words = _kind(" ".join(line.split()))
        data = read_yaml(text, name).data
        assert isinstance(data, dict)  # it has been read as a scenario
        try:
            edits = kind(_Told(words, data, catalogue, names, today))
        except ValueError as refusal:
            raise GardenFault(str(refusal)) from None
        text = edited(text, name, edits)
    if lines:
        read_scenario_text(text, name, catalogue)
    return text


def _kind(line: str) -> tuple[Callable[[_Told], list[Edit]], str]:
    low, table = line.casefold(), WORDS
    for no in ("no ", "without ", "remove "):
        if low.startswith(no):
            low, line, table = low[len(no) :], line[len(no) :], TAKEN_OUT
            break
    for word in sorted(table, key=len, reverse=True):
        if low == word or low.startswith((f"{word} ", f"{word}:")):
            return table[word], line[len(word) :].strip(" :")
    first = low.split(" ")[0]
    hint = did_you_mean(first, table) or f"begin with one of: {', '.join(table)}"
    raise GardenFault(f"{quoted(line)} is not understood; {hint}")


def _bed_and_rest(told: _Told) -> tuple[int, str]:
    """Return the number of the bed that is named, from 0, and what is told of it."""
    words = fold(told.words)
    for number, name in sorted(enumerate(told.beds), key=lambda one: -len(one[1])):
        if words == fold(name) or re.match(rf"{re.escape(fold(name))}[\s:,]", words):
            return number, told.words[len(name) :].strip(" :,")
    word = told.words.partition(":")[0]
    raise ValueError(
        f"there is no bed {quoted(word)}; {did_you_mean(word, told.beds) or 'the beds are: ' + ', '.join(told.beds)}"
    )


def _bed(told: _Told) -> list[Edit]:
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


def _diseases(told: _Told, number: int, diseases: Sequence[str]) -> list[Edit]:
    before = told.data["beds"][number].get("diseases") or []
    return [Put(("beds", number, "diseases"), list(dict.fromkeys([*before, *diseases])))]


def _disease(told: _Told) -> list[Edit]:
    number, rest = _bed_and_rest(told)
    return _diseases(told, number, [word.strip() for word in rest.split(",") if word.strip()])


def _place(told: _Told) -> list[Edit]:
    number, rest = _bed_and_rest(told)
    found = {match[1].lower(): match[2] for match in _PLACE.finditer(rest)}
    if len(found) != 2:
        raise ValueError(f"{quoted(rest)} does not say where the bed lies; write it as east 2 m, north 0 m")
    return [Put(("beds", number, field), value) for field, value in found.items()]


def _wish(told: _Told) -> list[Edit]:
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


def _places_of(told: _Told, crop: str) -> list[tuple[str, int]]:
    return [
        (under, number)
        for under in ("targets", "eats")
        for number, wish in enumerate(told.household(under))
        if told.names.find(str(wish.get("crop"))) == crop
    ]


def _no_wish(told: _Told) -> list[Edit]:
    edits: list[Edit] = []
    crops = [find_crop_told(word.strip(), told.names) for word in told.words.split(",")]
    places = [(crop, _places_of(told, crop)) for crop in crops]
    for crop, found in places:
        if not found:
            raise ValueError(f"there is no wish for {crop}")
        edits += [Take(("household", under), number) for under, number in found]
    # From the end, so that numbers in front stay.
    return sorted(edits, key=lambda edit: -edit.number)  # type: ignore[union-attr]


def _grew(told: _Told) -> list[Edit]:
    number, rest = _bed_and_rest(told)
    grew = read_past_line(rest, told.names, told.first_year - 1)
    old = {
        (fold(str(p.get("bed"))), told.names.find(str(p.get("crop"))), p.get("year"))
        for p in told.data.get("history") or ()
    }
    bed = told.beds[number]
    new = [one for one in grew if (fold(bed), one.crop, one.year) not in old]
    return [Add(("history",), {"bed": bed, "crop": one.crop, "year": one.year}) for one in new]


def _no_grew(told: _Told) -> list[Edit]:
    number, rest = _bed_and_rest(told)
    gone = set(read_past_line(rest, told.names, told.first_year - 1))
    found = [
        n
        for n, past in enumerate(told.data.get("history") or ())
        if past.get("bed") == told.beds[number] and (told.names.find(str(past.get("crop"))), past.get("year")) in gone
    ]
    if not found:
        raise ValueError(f"the file does not say that this grew in {told.beds[number]}")
    return [Take(("history",), n) for n in reversed(found)]


def _no_bed(told: _Told) -> list[Edit]:
    number, _ = _bed_and_rest(told)
    name = told.beds[number]
    for field in ("history", "pinned", "manure", "closed", "seen"):
        if any(isinstance(one, dict) and one.get("bed") == name for one in told.data.get(field) or ()):
            raise ValueError(f"{quoted(name)} is named under '{field}': take it out there first")
    return [Take(("beds",), number)]


def _day(told: _Told, words: str) -> str:
    since = year_start(told.first_year - 1, told.south)
    return parse_said_day(words, told.today, since).isoformat()


def _days(told: _Told, rest: str) -> list[str]:
    days = [_day(told, match[0]) for match in SAID.finditer(rest)]
    if not 1 <= len(days) <= 2:
        raise ValueError(f"{quoted(rest)} names no day, or too many; write one as 12 May 2027")
    return days


def _manure(told: _Told) -> list[Edit]:
    number, rest = _bed_and_rest(told)
    return [Add(("manure",), {"bed": told.beds[number], "spread": parse_date(day)}) for day in _days(told, rest)]


def _closed(told: _Told) -> list[Edit]:
    number, rest = _bed_and_rest(told)
    fields = zip(("since", "until"), map(parse_date, _days(told, rest)), strict=False)
    return [Add(("closed",), {"bed": told.beds[number], **dict(fields)})]


def _stands(told: _Told) -> list[Edit]:
    """Tell of what is in the ground already: fixed in the plan, or history that lasts if it is cleared before it."""
    number, rest = _bed_and_rest(told)
    days = [parse_date(day) for day in _days(told, rest)]
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


def _must(told: _Told) -> list[Edit]:
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


def _allow(told: _Told) -> list[Edit]:
    crops = [find_crop_told(word.strip(), told.names) for word in told.words.split(",") if word.strip()]
    return [Add(("also_allowed",), crop) for crop in crops]


def _whole(path: tuple[str, ...]) -> Callable[[_Told], list[Edit]]:
    def put(told: _Told) -> list[Edit]:
        if not re.fullmatch(r"\d{1,4}", told.words):
            raise ValueError(f"{quoted(told.words)} is not a whole number")
        return [Put(path, int(told.words))]

    return put


def _title(told: _Told) -> list[Edit]:
    return [Put(("title",), told.words)]


WORDS: dict[str, Callable[[_Told], list[Edit]]] = {
    "bed": _bed,
    "wish": _wish,
    "grew": _grew,
    "must have": _must,
    "allow": _allow,
    "disease": _disease,
    "manure": _manure,
    "closed": _closed,
    "stands": _stands,
    "place": _place,
    "people": _whole(("household", "people")),
    "years": _whole(("years",)),
    "first year": _whole(("first_year",)),
    "title": _title,
}
"""How a line may begin."""
TAKEN_OUT: dict[str, Callable[[_Told], list[Edit]]] = {"wish": _no_wish, "grew": _no_grew, "bed": _no_bed}
"""What may follow ``no``."""
