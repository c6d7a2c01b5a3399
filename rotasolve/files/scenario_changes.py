"""Changes of a scenario told in lines: ``bed gate bed: 6 x 1.2 m``, ``wish carrots 20 kg``, ``no wish kale``.

A line becomes edits of the file's text (``files.yaml_edits``); the file is then read again, so that whatever is wrong
with a change is told as in any scenario.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

from rotasolve.domain.scenario import Rules
from rotasolve.errors import GardenFault
from rotasolve.files.change_ground import GROUND_TAKEN_OUT, GROUND_WORDS
from rotasolve.files.change_wishes import WISH_TAKEN_OUT, WISH_WORDS
from rotasolve.files.crop_names import CropNames
from rotasolve.files.document import quoted
from rotasolve.files.scenarios import read_scenario_text
from rotasolve.files.told_line import Told
from rotasolve.files.wording import did_you_mean
from rotasolve.files.yaml_edits import Edit, Put, edited
from rotasolve.files.yaml_text import read_yaml

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.catalogue import Catalogue


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
            edits = kind(Told(words, data, catalogue, names, today))
        except ValueError as refusal:
            raise GardenFault(str(refusal)) from None
        text = edited(text, name, edits)
    if lines:
        read_scenario_text(text, name, catalogue)
    return text


def _kind(line: str) -> tuple[Callable[[Told], list[Edit]], str]:
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


def _whole(path: tuple[str, ...]) -> Callable[[Told], list[Edit]]:
    def put(told: Told) -> list[Edit]:
        if not re.fullmatch(r"\d{1,4}", told.words):
            raise ValueError(f"{quoted(told.words)} is not a whole number")
        return [Put(path, int(told.words))]

    return put


def _text(path: tuple[str, ...]) -> Callable[[Told], list[Edit]]:
    return lambda told: [Put(path, told.words)]


def _rule(told: Told) -> list[Edit]:
    """Set a rule by its name, with or without underlines: ``few plantings: much``, ``family_gap 3``."""
    low = told.words.casefold().replace("_", " ")
    for field in sorted(Rules.model_fields, key=len, reverse=True):
        name = field.replace("_", " ")
        if low.startswith((f"{name} ", f"{name}:")):
            value: Any = read_yaml(f"x: {told.words[len(name) :].strip(' :')}", "the line").data
            return [Put(("rules", field), value["x"])]
    known = [field.replace("_", " ") for field in Rules.model_fields]
    hint = did_you_mean(low.split(":")[0], known) or f"the rules are: {', '.join(known)}"
    raise ValueError(f"{quoted(told.words)} names no rule with its value; {hint}")


WORDS: dict[str, Callable[[Told], list[Edit]]] = {
    **GROUND_WORDS,
    **WISH_WORDS,
    "people": _whole(("household", "people")),
    "count in": _text(("household", "count_in")),
    "surplus": _text(("household", "surplus")),
    "meet targets at": _text(("household", "meet_targets_at")),
    "years": _whole(("years",)),
    "first year": _whole(("first_year",)),
    "risk": _text(("site", "risk")),
    "units": _text(("units",)),
    "rule": _rule,
    "title": _text(("title",)),
}
"""How a line may begin."""
TAKEN_OUT: dict[str, Callable[[Told], list[Edit]]] = {**GROUND_TAKEN_OUT, **WISH_TAKEN_OUT}
"""What may follow ``no``."""
