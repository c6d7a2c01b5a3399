"""How much of a full crop a planting gives, in words: only where it is less than a good start gives."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.views.words.wording import TIED

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rotasolve.domain.crop import Way
    from rotasolve.domain.crop_share import CropShare

_NEAREST = 5
"""Shares are said to the nearest 5 %: the figures behind them are no better."""


def say_crop_share(share: CropShare, way: Way) -> str:
    """Say a share in full: ``a late sowing: about 60 % of a full crop``."""
    sown = way == "sown in place"
    begin = {
        "late": "a late sowing: " if sown else "set out late: ",
        "early": "an early sowing: " if sown else "set out early: ",
        "cleared early": "cleared early: ",
        "in spring": "started in spring, not in autumn: ",
        "best here": "",
        "not ripe": "",
    }[share.why]
    if share.why == "not ripe":
        return "not ripe before winter ends it: no crop"
    more = "; in such a bed no day gives much more" if share.why == "best here" else ""
    return f"{begin}about {_say_percent(share)} of a full crop{more}"


def share_cell(share: CropShare | None) -> str:
    """Say a share in short, beside a yield: ``late, 60 % of a full crop``; nothing for a full crop."""
    return "" if share is None else f"{share.why}, {_say_percent(share)} of a full crop"


def say_quick_kinds(days: Mapping[str, int]) -> str:
    """Say of which crops quick kinds are counted, with their days to the first picking; empty for none."""
    if not days:
        return ""
    told = ", ".join(f"{crop} ({count}{TIED}days)" for crop, count in days.items())
    return (
        f"Quick kinds are counted, by the days on the packet from their start in the bed to the first picking: {told}. "
        "Usual kinds would give less here, or not ripen: buy early ones."
    )


def _say_percent(share: CropShare) -> str:
    return f"{_NEAREST * round(share.percent / _NEAREST) or min(share.percent, 1)}{TIED}%"
