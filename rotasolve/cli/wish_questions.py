"""What ``begin`` asks of the household: what it eats, in which months, and whatever else there is to tell."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from rotasolve.cli import answers as reading
from rotasolve.cli.conversation import Partly, Step
from rotasolve.files.crop_names import CropNames
from rotasolve.files.told_months import take_months
from rotasolve.files.told_wishes import find_crop_told, read_wishes_line

if TYPE_CHECKING:
    from collections.abc import Callable

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.files.told_wishes import ToldWish

_EATS_HELP = """\
Crops with commas between them, as you call them: potatoes 40 kg, carrots, a little kale, 10 jars of
beetroot. An amount is kg, g, lb, plants, meals or jars (of a litre) a year. Without one, what is
published for one person is counted for all, and a little, usual or much of it. How much it
matters beside others may follow (weight 1 to 5), and the months to have it fresh: lettuce
May-October.
'rotasolve crops' lists all crops. You will see how many kg that comes to and how much ground it
needs."""
_MONTHS_HELP = """\
Crops with the months in which you want them fresh from the bed: lettuce May-October, kale October
to March. What is not named may come whenever it grows well, all at once too."""
_MORE_HELP = """\
A line for each thing, as for the command 'change':
    disease gate bed: clubroot            must have 10 leeks
    manure gate bed: 12 October 2026      allow phacelia, winter rye
    closed gate bed: 1 May 2027 to 1 June 2027
    stands gate bed: garlic since 15 October 2026 until 20 July 2027
    place gate bed: east 2 m, north 0 m   rule few plantings: much
    hedge north side: 10 x 0.6 m, 2 m high, e-w, east 0 m, north 8 m
    tree old apple: 4 m across, 5 m high, east 3 m, north 9 m
    risk cautious                         units inches"""


def wish_steps(
    told: Mapping[str, Any],
    catalogue: Catalogue,
    say_need: Callable[[Mapping[str, Any]], str],
    read_more: Callable[[Mapping[str, Any], str], str],
) -> Iterator[Step]:
    """Yield the questions about wishes, as ``conversation.Steps``.

    Parameters
    ----------
    say_need
        Says, of what was told, how many kg the wishes come to and how much ground they need.
    read_more
        Returns a line of the last question if it can be added to the garden that was told; ValueError if not.
    """
    names, people = CropNames(catalogue.crops), told["people"]

    def read(text: str) -> tuple[ToldWish, ...]:
        found = read_wishes_line(text, catalogue, names, people)
        if found.faults:
            raise Partly(", ".join(found.words), ", ".join(found.wrong), found.faults)
        return found.wishes

    def say(wishes: tuple[ToldWish, ...]) -> str:
        return say_need({**told, "eats": wishes})

    words = "What do you eat, and how much of it a year (such as potatoes 40 kg, carrots, a little kale)?"
    proposal = reading.proposed_crops(people, catalogue)
    yield Step("eats", words, read, _EATS_HELP, "--crop", proposal, proposal, say, assumed=False)
    wishes = told["eats"]
    if wishes and not any("fresh_from" in wish.fields for wish in wishes):
        words = "Which of them do you want fresh, and in which months (such as lettuce May-October)? Enter: whenever."
        yield Step("months", words, _months_reader(names, wishes), _MONTHS_HELP, "--crop", "", "")
    number = 0
    while True:
        number += 1
        key = f"more {number}"
        words = "Anything else (such as: disease gate bed: clubroot; '?' shows what)? Enter: no, write the file."
        yield Step(key, words, lambda text: read_more(told, text), _MORE_HELP, "--more", "", "")
        if not told[key]:
            return


def wishes_told(told: Mapping[str, Any], under: str) -> tuple[dict[str, Any], ...]:
    """Return the fields of each wish for a list of the household, ``targets`` or ``eats``."""
    months = told.get("months") or {}
    return tuple({**wish.fields, **months.get(wish.crop, {})} for wish in told.get("eats") or () if wish.under == under)


def _months_reader(names: CropNames, wishes: tuple[ToldWish, ...]) -> Callable[[str], dict[str, dict[str, str]]]:
    wished = {wish.crop for wish in wishes}

    def one(text: str) -> tuple[str, dict[str, str]]:
        word, months = take_months(text)
        if months is None:
            raise ValueError(f"'{text}' names no months; write it as lettuce May-October")
        crop = find_crop_told(word.strip(" :"), names)
        if crop not in wished:
            raise ValueError(f"{crop} is not among your wishes; go back to add it")
        return crop, {"fresh_from": months.first, "fresh_to": months.last}

    def read(text: str) -> dict[str, dict[str, str]]:
        found: dict[str, dict[str, str]] = {}
        kept, wrong, faults = [], [], []
        for part in filter(None, (part.strip() for part in text.replace(";", ",").split(","))):
            try:
                crop, months = one(part)
            except ValueError as refusal:
                wrong.append(part)
                faults.append(str(refusal))
                continue
            found[crop] = months
            kept.append(part)
        if faults:
            raise Partly(", ".join(kept), ", ".join(wrong), tuple(faults))
        return found

    return read
