"""A diary: what really happened in a garden, day by day, as the grower told it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.seasons import Day

Kind = Literal[
    "sown indoors",
    "potted on",
    "hardened off",
    "sown",
    "planted",
    "set out",
    "covered",
    "uncovered",
    "thinned",
    "earthed up",
    "failed",
    "picked",
    "cleared",
    "dug in",
    "disease seen",
    "pest seen",
    "bed closed",
    "manured",
    "frost",
    "noted",
]
"""What happened, in the words that stand in a diary."""

Need = Literal["needed", "may", "never"]
Amount = Literal["plants", "kg", "degrees"]


@dataclass(frozen=True, slots=True)
class Telling:
    """How a kind of happening is told: what has to be named with it, what may be, and other words for it.

    ``trouble`` is the disease or pest that was seen, ``until`` the last day on which a bed is closed.
    """

    crop: Need = "never"
    bed: Need = "needed"
    strips: bool = True
    amounts: tuple[Amount, ...] = ()
    trouble: bool = False
    until: bool = False
    also: tuple[str, ...] = ()


_STARTED = Telling(crop="needed", amounts=("plants",))
_TENDED = Telling(crop="needed", bed="may", amounts=("plants",))

KINDS: Mapping[Kind, Telling] = MappingProxyType(
    {
        "sown indoors": _TENDED,
        "potted on": _TENDED,
        "hardened off": _TENDED,
        "sown": Telling(crop="needed", amounts=("plants",), also=("sowed",)),
        "planted": _STARTED,
        "set out": Telling(crop="needed", amounts=("plants",), also=("transplanted",)),
        "covered": _TENDED,
        "uncovered": _TENDED,
        "thinned": _TENDED,
        "earthed up": _TENDED,
        "failed": Telling(crop="needed", amounts=("plants",), also=("lost", "died")),
        "picked": Telling(crop="needed", bed="may", amounts=("kg", "plants"), also=("harvested", "lifted")),
        "cleared": Telling(crop="needed", amounts=("plants",)),
        "dug in": Telling(crop="needed"),
        "disease seen": Telling(crop="may", trouble=True),
        "pest seen": Telling(crop="may", trouble=True),
        "bed closed": Telling(strips=False, until=True, also=("closed",)),
        "manured": Telling(strips=False),
        "frost": Telling(bed="may", strips=False, amounts=("degrees",)),
        "noted": Telling(crop="may", bed="may", also=("note",)),
    }
)
"""Every kind of happening with how it is told, in the order in which those of one day follow on one another."""

STARTS: tuple[Kind, ...] = ("sown", "planted", "set out")
"""With these a crop takes its ground."""


@dataclass(frozen=True, slots=True)
class Happening:
    """One line of a diary.

    Crops, beds and diseases bear the names of catalogue and scenario; ``strips`` count from 1 at the pole side, and
    none named means all that the crop has there. ``plants`` left out of ``failed`` or ``cleared`` means all of them.
    ``kg`` is what was weighed. ``line`` is where it stands in its file, from 1, and no part of what happened.
    """

    day: Day
    kind: Kind
    crop: str | None = None
    bed: str | None = None
    strips: tuple[int, ...] = ()
    plants: int | None = None
    kg: float | None = None
    degrees_c: float | None = None
    trouble: str | None = None
    until: Day | None = None
    note: str = ""
    line: int = field(default=0, compare=False)

    def concerns(self, bed: str, strip: int) -> bool:
        """Return whether it is told of a strip: of the whole bed if no strip is named."""
        return self.bed == bed and (not self.strips or strip in self.strips)


@dataclass(frozen=True, slots=True)
class Diary:
    """What happened, by day; what happened on one day stays in the order in which it was told."""

    happenings: tuple[Happening, ...] = ()

    def of(self, *kinds: Kind) -> tuple[Happening, ...]:
        """Return the happenings of some kinds, by day."""
        return tuple(one for one in self.happenings if one.kind in kinds)

    def between(self, first: date, last: date) -> Diary:
        """Return what happened from one day to another, both included."""
        return Diary(tuple(one for one in self.happenings if first <= one.day <= last))
