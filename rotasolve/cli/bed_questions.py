"""What ``begin`` asks of each bed: its size, direction and cover, and what grew in it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

from rotasolve.cli.conversation import Partly, Step
from rotasolve.domain.measures import parse_length
from rotasolve.domain.seasons import say_year
from rotasolve.files.crop_names import CropNames, fold
from rotasolve.files.document import quoted
from rotasolve.files.first_scenario import BedAnswer
from rotasolve.files.told_beds import ToldBed, read_bed_line, read_cover, read_runs
from rotasolve.files.told_past import PastFaults, read_past_line
from rotasolve.files.told_size import HINT, SIZE, Size

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.files.told_past import Grew

_BED_HELP = """\
The size as you would say it: 6x1.2, 20 by 4 ft, 6 m x 1.2 m (without a unit: metres). More may
stand in the same line: a name before a colon, the direction of the long side, a cover, hours of
sun, a disease of the soil:
    gate bed: 6 x 1.2 m, east-west, low tunnel, clubroot
    3 beds of 4 x 1.2 m, n-s
What grew there may follow behind a semicolon: 6 x 1.2 m; 2026 potatoes, kale; 2025 onions"""
_RUNS_HELP = """\
north-south or east-west (n-s, e-w): where the long side points. Tall crops are kept where they
shade the others least, and that hangs on it. If it lies askew, write the nearer of the two; the
file can turn it by degrees."""
_COVER_HELP = "open ground, cold frame, fleece, low tunnel or tunnel (a greenhouse without heat counts as a tunnel)."
_GREW_HELP = """\
Crops with commas between them, years in front: 2026 potatoes, kale; 2025 onions. A crop without a
year grew in the last one. It keeps families of crops off ground they stood on lately. Write
'nothing' if it lay fallow."""


class BedGroup(NamedTuple):
    """One bed, or several like ones, and what grew in all of them if that was told in the same line."""

    names: tuple[str, ...]
    told: ToldBed
    grew: tuple[Grew, ...] | None = None


def bed_steps(told: Mapping[str, Any], catalogue: Catalogue) -> Iterator[Step]:
    """Yield the questions about beds, as ``conversation.Steps``, until an empty answer ends them."""
    names = CropNames(catalogue.crops)
    # What rotation does not help against would be refused in the file.
    diseases = sorted({one.name for one in catalogue.pathogens if one.closes or one.gap_low or one.gap_high})
    first_year = told["first_year"].first if told["first_year"] is not None else 2027
    south = (told["latitude"] or 0) < 0
    taken: list[str] = []
    runs, cover, number = "north-south", "open ground", 0
    while True:
        number += 1
        key = f"bed {number}"
        read = _bed_reader(tuple(taken), diseases, names, first_year, first=number == 1)
        yield Step(
            key,
            f"Bed {len(taken) + 1}: how long and wide is it (such as 6 x 1.2 m)?"
            + (" Enter: no more beds." if taken else ""),
            read,
            _BED_HELP,
            "--bed",
            "" if number > 1 else None,
            "3 beds of 4 x 1.2 m, north-south, open ground; nothing" if number == 1 else "",
            echo=_say_beds,
        )
        group = told[key]
        if group == "":
            return
        if group is None:
            continue
        taken += group.names
        many = ", ".join(group.names)
        if group.told.runs is None:
            words = f"Which way does the long side of {many} run, north-south or east-west?"
            yield Step(f"{key} runs", words, read_runs, _RUNS_HELP, "--bed", runs, runs)
        if group.told.cover is None:
            words = f"What covers {many}: open ground, cold frame, fleece, low tunnel or tunnel?"
            yield Step(f"{key} cover", words, read_cover, _COVER_HELP, "--bed", cover, cover)
        runs = group.told.runs or told[f"{key} runs"]
        cover = "open ground"
        for name in group.names if group.grew is None else ():
            years = f"{say_year(first_year - 1, south)} and {say_year(first_year - 2, south)}"
            such = f"such as {first_year - 1} potatoes, kale; {first_year - 2} onions"
            words = f"What grew in {name} in {years} ({such})? Enter: not known."
            read_past = _past_reader(names, first_year - 1)
            yield Step(f"grew {name}", words, read_past, _GREW_HELP, "--grew", "", "", echo=_say_grew)


def beds_told(told: Mapping[str, Any]) -> tuple[tuple[BedAnswer, ...], tuple[tuple[str, str, int], ...]]:
    """Return all beds that were told, and what grew in them as (bed, crop, garden year)."""
    beds: list[BedAnswer] = []
    grew: list[tuple[str, str, int]] = []
    for key, group in told.items():
        if not isinstance(group, BedGroup):
            continue
        bed = group.told
        assert bed.size is not None  # the reader has seen to it
        for name in group.names:
            runs, cover = bed.runs or told[f"{key} runs"], bed.cover or told[f"{key} cover"]
            beds.append(BedAnswer(name, *bed.size, runs, cover, bed.diseases, bed.sun_hours))
            past = group.grew if group.grew is not None else told[f"grew {name}"]
            grew += [(name, one.crop, one.year) for one in past or ()]
    return tuple(beds), tuple(grew)


def _past_reader(names: CropNames, last_year: int) -> Any:
    def read(text: str) -> tuple[Grew, ...]:
        try:
            return read_past_line(text, names, last_year)
        except PastFaults as refusal:
            raise Partly(refusal.kept, refusal.wrong, refusal.faults) from None

    return read


def _bed_reader(taken: tuple[str, ...], diseases: list[str], names: CropNames, first_year: int, first: bool) -> Any:
    def read(text: str) -> BedGroup | str:
        if not text.strip() or text.strip().casefold() in ("no", "none", "done", "end", "no more", "that is all"):
            if first:
                raise ValueError(f"a garden has one bed at least; {HINT}")
            return ""
        line, mark, past = text.partition(";")
        bed = _by_commas(line) or read_bed_line(line, diseases)
        if bed.size is None:
            raise ValueError(f"{quoted(line)} has no size; {HINT}")
        _check_size(bed)
        # The third bed is bed 3, unless another is called so.
        numbers = (*range(len(taken) + 1, 1000), *range(1, len(taken) + 1))
        free = (name for name in (f"bed {number}" for number in numbers) if name not in map(fold, taken))
        called = (bed.name,) if bed.name else tuple(next(free) for _ in range(bed.many))
        if bed.name and fold(bed.name) in map(fold, taken):
            raise ValueError(f"a bed is called {quoted(bed.name)} already; give each bed its own name")
        return BedGroup(called, bed, read_past_line(past, names, first_year - 1) if mark else None)

    return read


def _by_commas(text: str) -> ToldBed | None:
    """Return a bed told as ``name,length,width[,runs[,cover]]``, None if it is not told so."""
    parts = [part.strip() for part in text.split(",")]
    if not 3 <= len(parts) <= 5 or not all(parts) or SIZE.search(text) or not parts[1][:1].isdigit():
        return None
    for length in parts[1:3]:
        parse_length(length)
    runs = read_runs(parts[3]) if len(parts) > 3 else "north-south"
    cover = read_cover(parts[4]) if len(parts) > 4 else "open ground"
    return ToldBed(parts[0], Size(parts[1], parts[2]), runs, cover)


def _check_size(bed: ToldBed) -> None:
    from pydantic import ValidationError

    from rotasolve.domain.bed import Bed
    from rotasolve.files.wording import say_error

    assert bed.size is not None
    fields = {"name": bed.name or "bed", "length": bed.size.length, "width": bed.size.width, "sun_hours": bed.sun_hours}
    try:
        Bed.model_validate(fields)
    except ValidationError as refusal:
        told = ["; ".join(part for part in say_error(error, tuple(error["loc"])) if part) for error in refusal.errors()]
        raise ValueError("\n".join(told)) from None


def _say_beds(group: BedGroup | str) -> str:
    if isinstance(group, str):
        return ""
    bed, size = group.told, group.told.size
    assert size is not None
    told = [f"{size.length} x {size.width} = {size.m2:.1f} m2", *filter(None, (bed.runs, bed.cover)), *bed.diseases]
    return f"{', '.join(group.names)}: {', '.join(told)}" + _say_grew(group.grew or (), "; ")


def _say_grew(grew: tuple[Grew, ...], before: str = "") -> str:
    years = dict.fromkeys(one.year for one in grew)
    said = "; ".join(f"{year} {', '.join(one.crop for one in grew if one.year == year)}" for year in years)
    return f"{before}{said}" if said else ""
