"""Ground that is closed to crops a household wants, because of what grew or was seen there."""

from __future__ import annotations

from rotasolve.domain.record import Record


class ClosedGround(Record):
    """A bed, or some of its strips, that is closed to a family's or a disease's hosts when a plan begins.

    ``crops`` are those of them that are wished. ``up_to`` is the last garden year without them, None if the ground is
    closed for good; no ``strips`` are all of the bed.
    """

    group: str
    disease: bool
    crops: tuple[str, ...]
    bed: str
    strips: tuple[int, ...] = ()
    up_to: int | None = None
