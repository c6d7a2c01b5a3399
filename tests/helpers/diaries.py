"""A garden with names that are hard to write down, and random happenings in it."""

from __future__ import annotations

from datetime import date
from typing import Any

from hypothesis import strategies as st

from rotasolve.domain.diary import KINDS, Happening, Kind
from rotasolve.domain.strips import strips_in_bed
from rotasolve.files.diary import DiaryFile, read_diary_text
from rotasolve.files.diary_names import DiaryNames
from tests.helpers.hostile import AT, FORMULA, ICS, QUOTES
from tests.helpers.tiny import CATALOGUE, CROPS, bed, catalogue, crop, scenario

BEDS = (
    bed("gate bed", 4),
    bed("kale", 2),
    bed("pot, left: by the wall", 1),
    bed("strip 3", 3),
    bed("in the shade", 2),
    bed('the "new" one', 2),
    *(bed(name, 2) for name in (AT, FORMULA, QUOTES, ICS, "12 kg", "until 2030", "# cut off?")),
)
HARD = (crop("3 sisters, mixed", "legumes"), crop("on strips", "onions"), crop("red kale", "cabbages"))
NAMED = catalogue((*CROPS, *HARD))
GARDEN = scenario(beds=BEDS)
NAMES = DiaryNames(GARDEN, NAMED)
TINY = scenario(beds=(bed("gate bed", 4), bed("left", 2)))
"""Two beds with plain names, for cases by hand."""


def read_lines(*lines: str, hard_names: bool = False) -> DiaryFile:
    """Return the diary that lines hold, each with its end, under the name d.txt."""
    garden = (GARDEN, NAMED) if hard_names else (TINY, CATALOGUE)
    return read_diary_text([*lines, ""], "d.txt", *garden)


_NOTES = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)


@st.composite
def happenings(draw: st.DrawFn) -> Happening:
    """Draw anything that a line can tell in the garden with hard names, as it is read back."""
    kind: Kind = draw(st.sampled_from(list(KINDS)))
    telling, where = KINDS[kind], draw(st.sampled_from(BEDS))
    told: dict[str, Any] = {"day": draw(st.dates(date(1950, 1, 1), date(2200, 12, 31))), "kind": kind}
    if telling.crop == "needed" or (telling.crop == "may" and draw(st.booleans())):
        told["crop"] = draw(st.sampled_from([one.name for one in NAMED.crops]))
    if telling.bed == "needed" or draw(st.booleans()):
        told["bed"] = where.name
        if telling.strips:
            strips = st.sets(st.integers(1, strips_in_bed(where)))
            told["strips"] = tuple(sorted(draw(strips)))
    amount = draw(st.sampled_from([None, *telling.amounts]))
    if amount == "kg":
        told["kg"] = draw(st.integers(0, 10**6)) / 1000
    elif amount == "plants":
        told["plants"] = draw(st.integers(1, 100_000))
    elif amount == "degrees":
        told["degrees_c"] = draw(st.integers(-600, 600)) / 10
    if telling.trouble:
        free = st.sampled_from(["slugs", "small white on the wing", 'a "worm"', "12 C", "until", "left: right"])
        told["trouble"] = draw(st.sampled_from(["club root", "white rot"]) if kind == "disease seen" else free)
    if telling.until and draw(st.booleans()):
        told["until"] = draw(st.dates(date(1950, 1, 1), date(2200, 12, 31)))
    return Happening(**told, note=written(draw(_NOTES)))


def written(note: str) -> str:
    """Return a note as a line holds it: on one line, control signs as blanks, blanks once."""
    from rotasolve.domain.signs import blanked

    return " ".join(blanked(note).split())
