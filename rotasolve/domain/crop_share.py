"""How much of a full crop a planting gives, and what keeps it from more."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from rotasolve.domain.record import Record

ShareReason = Literal["late", "early", "cleared early", "in spring", "best here", "not ripe"]
"""What keeps a planting from a full crop.

``late`` and ``early``: another open day gives more; ``cleared early``: picking is cut short; ``in spring``: the crop
is at its best started in autumn; ``best here``: no open day gives much more under that cover; ``not ripe``: cold or
dark ends it first.
"""


class CropShare(Record):
    """The share of a full crop, in per cent, that a planting gives, and what keeps it from more."""

    percent: Annotated[int, Field(ge=0, le=100)]
    why: ShareReason
