"""What happened to one line of a diary, as it is entered: ``files.diary_lines`` reads it back as it was."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from rotasolve.domain.diary import KINDS
from rotasolve.domain.signs import blanked
from rotasolve.domain.strips import say_strips
from rotasolve.files.diary_lines import RESERVED

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rotasolve.domain.diary import Happening

_WORD = re.compile(r"[^\W\d][\w'\u2019().&/-]*")


def write_line(told: Happening) -> str:
    """Return a happening as a line without its end."""
    head = " ".join([told.day.isoformat(), told.kind, *_amount(told)])
    named = [told.crop] if told.crop is not None and told.trouble is None else []
    if told.trouble is not None:
        head += f" {_name(told.trouble)}" + (f" on {_name(told.crop)}" if told.crop is not None else "")
    elif named:
        head += f" {_name(named[0])}"
    if told.bed is not None:
        # Without a comma before it, "in" keeps a bed that is called like a crop from being taken for one.
        joined = "," if not head.endswith(told.kind) else " in" if KINDS[told.kind].crop == "may" else ""
        head += f"{joined} {_name(told.bed)}"
    if told.strips:
        head += f", {say_strips(told.strips)}"
    if told.until is not None:
        head += f", until {told.until.isoformat()}"
    note = " ".join(blanked(told.note).split())
    return f"{head}: {note}" if note or told.kind == "noted" else head


def _amount(told: Happening) -> Iterator[str]:
    if told.kg is not None:
        yield f"{told.kg:.4f}".rstrip("0").rstrip(".") + " kg"
    if told.plants is not None:
        yield str(told.plants)
    if told.degrees_c is not None:
        yield f"{told.degrees_c:.1f}".removesuffix(".0") + " C"


def _name(name: str) -> str:
    """Return a name in quotes if its words could be taken for something else."""
    words = name.split(" ")
    first, *others = words
    bare = _WORD.fullmatch(first) and all(re.fullmatch(r"[\w'\u2019().&/-]+", word) for word in others)
    if bare and not RESERVED & {word.lower() for word in words}:
        return name
    return '"' + name.replace('"', '""') + '"'
