"""A line that tells of a bed: ``gate bed: 6 x 1.2 m, east-west, low tunnel, clubroot``."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple, get_args

from rotasolve.domain.cover import CoverName
from rotasolve.errors import Unusable
from rotasolve.files.crop_names import fold
from rotasolve.files.document import quoted
from rotasolve.files.told_size import HINT, SIZE, read_size
from rotasolve.files.wording import did_you_mean

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rotasolve.files.told_size import Size

COVERS: tuple[str, ...] = get_args(CoverName)
_OTHER_COVERS = {
    "open": "open ground",
    "none": "open ground",
    "no cover": "open ground",
    "uncovered": "open ground",
    "outdoors": "open ground",
    "frame": "cold frame",
    "coldframe": "cold frame",
    "low tunnels": "low tunnel",
    "cloche": "low tunnel",
    "cloches": "low tunnel",
    "polytunnel": "tunnel",
    "poly tunnel": "tunnel",
    "walk-in tunnel": "tunnel",
    "greenhouse": "tunnel",
    "garden fleece": "fleece",
    "row cover": "fleece",
}
"""Other words for covers; a greenhouse without heat counts as a tunnel: common practice, no source."""
_RUNS = {
    **dict.fromkeys(("north-south", "n-s", "ns", "n/s", "north to south", "north south", "north"), "north-south"),
    **dict.fromkeys(("east-west", "e-w", "ew", "e/w", "east to west", "east west", "east"), "east-west"),
    **dict.fromkeys(("south-north", "s-n", "south to north"), "north-south"),
    **dict.fromkeys(("west-east", "w-e", "west to east"), "east-west"),
}
_MANY = re.compile(r"^(\d{1,2})\s+(?:(?:beds?|times|of)\s+)+(?:at\s+|with\s+)?(?=\d)", re.IGNORECASE)
_SUN = re.compile(r"\b(\d{1,2}(?:\.\d+)?)\s*h(?:ours?|rs?)?\s*(?:of\s+)?sun\b", re.IGNORECASE)
_JOIN = re.compile(r"\s*(?:,|;|:|\bwith\b|\bunder an?\b|\bruns\b|\brunning\b|\bcover\b)\s*", re.IGNORECASE)
_MOST_AT_ONCE = 40


class ToldBed(NamedTuple):
    """What a line tells of a bed, or of ``many`` like ones; None or empty for what it does not tell."""

    name: str | None = None
    size: Size | None = None
    runs: str | None = None
    cover: str | None = None
    diseases: tuple[str, ...] = ()
    sun_hours: float | None = None
    many: int = 1


def is_direction(text: str) -> bool:
    """Return whether a text says which way a long side runs."""
    return _plain(text) in _RUNS


def read_runs(text: str) -> str:
    """Return ``north-south`` or ``east-west``.

    Raises
    ------
    Unusable
        If it is neither.
    """
    found = _RUNS.get(_plain(text))
    if found is None:
        raise Unusable(
            f"{quoted(text)} is no direction of a long side", "write north-south or east-west, or n-s or e-w"
        )
    return found


def read_cover(text: str) -> str:
    """Return a cover's name as a scenario knows it.

    Raises
    ------
    Unusable
        If there is no such cover.
    """
    found = _cover(text)
    if found is None:
        hint = did_you_mean(text, [*COVERS, *_OTHER_COVERS]) or f"write one of: {', '.join(COVERS)}"
        raise Unusable(f"{quoted(text)} is no cover known here", hint)
    return found


def _cover(text: str) -> str | None:
    word = _plain(text)
    return word if word in COVERS else _OTHER_COVERS.get(word)


def _plain(text: str) -> str:
    return re.sub(r"\s*([-/])\s*", r"\1", fold(text.strip(" .")))


def read_bed_line(text: str, diseases: Iterable[str], known: Iterable[str] = ()) -> ToldBed:
    """Return what a line tells of a bed; what is left over is its name.

    Parameters
    ----------
    text
        Such as ``6x1.2``, ``gate bed: 20 by 4 ft, e-w`` or ``3 beds of 4 x 1.2 m``.
    diseases
        The names of diseases that may be told.
    known
        The names of beds, which go before words for covers and directions (``tunnel`` may be a bed).

    Raises
    ------
    Unusable
        If two things are told twice, or something is not understood.
    """
    rest, count, told = text.strip(), 1, ToldBed()
    name = next((one for one in known if re.match(rf"{re.escape(fold(one))}\s*(?:[:,]|$|\s(?=\d))", fold(rest))), None)
    if name is not None:
        rest = rest[len(name) :].lstrip(" :,")
    elif many := _MANY.match(rest):
        count, rest = int(many[1]), rest[many.end() :]
        if not 1 <= count <= _MOST_AT_ONCE:
            raise Unusable(f"{count} beds at once are too many", f"tell at most {_MOST_AT_ONCE}")
    elif (mark := rest.find(":")) > 0 and not SIZE.search(rest[:mark]):
        name, rest = rest[:mark].strip(), rest[mark + 1 :]
    if sun := _SUN.search(rest):
        told, rest = told._replace(sun_hours=float(sun[1])), f"{rest[: sun.start()]},{rest[sun.end() :]}"
    front, behind = rest, ""
    if size := SIZE.search(rest):
        told = told._replace(size=read_size(size[1], size[2]))
        front, behind = rest[: size.start()], rest[size.end() :]
    by_fold = {fold(one): one for one in diseases}
    left: list[str] = []
    for part in filter(None, _JOIN.split(front.strip())):
        told = _with_part(told, part, by_fold, left)
    # A name stands before the size: what stands behind it is a word that was meant for something else.
    if name is None and size is not None and left:
        name = left.pop(0)
    for part in filter(None, _JOIN.split(behind.strip())):
        told = _with_part(told, part, by_fold, left)
    if left:
        wrong = left[0]
        words = [*COVERS, *_OTHER_COVERS, "north-south", "east-west", *by_fold]
        raise Unusable(f"{quoted(wrong)} is not understood", did_you_mean(wrong, words) or HINT)
    return told._replace(name=name, many=count)


def _with_part(told: ToldBed, part: str, diseases: dict[str, str], left: list[str]) -> ToldBed:
    """Return what is told with one part more; what it may not be is added to ``left``."""
    if disease := diseases.get(fold(part)):
        return told._replace(diseases=(*told.diseases, disease))
    if runs := _RUNS.get(_plain(part)):
        _refuse_two(told.runs, runs, part)
        return told._replace(runs=runs)
    if cover := _cover(part):
        _refuse_two(told.cover, cover, part)
        return told._replace(cover=cover)
    words = part.split()
    for cut in range(1, len(words)):
        front, behind = " ".join(words[:cut]), " ".join(words[cut:])
        for one, other in ((front, behind), (behind, front)):
            # Two things without a comma between them: "e-w tunnel".
            if _RUNS.get(_plain(one)) and _cover(other):
                return _with_part(_with_part(told, one, diseases, left), other, diseases, left)
    left.append(part)
    return told


def _refuse_two(before: str | None, now: str, part: str) -> None:
    if before is not None and before != now:
        raise Unusable(f"{quoted(part)} does not go with {quoted(before)}", "keep one of the two")
