"""What starts give of a full crop, in words: good, possible and catch-crop days, and numbers by half months."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import MONTHS, first_day, period_of
from rotasolve.relations.season.growing import GOOD, POSSIBLE
from rotasolve.views.words.wording import TIED, say_date, say_span

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.relations.season.crop_seasons import OpenWindow
    from rotasolve.relations.season.start_shares import StartShare, WindowPart
    from rotasolve.views.words.look import Look

PARTS_LEGEND = (
    f"Good starts give {GOOD}{TIED}% or more of what the best one at the site gives, possible ones {POSSIBLE}{TIED}%, "
    "a catch crop less. A plan is offered good ones; possible ones too where you wish months of fresh harvest or where "
    "nothing is good; catch crops only where nothing else is open, or where you fix them."
)
SHARES_LEGEND = (
    "% of a full crop: what light, warmth and the time of picking leave of the published yield, for a start in the "
    "first and in the second half of each month."
)


def say_parts(opened: OpenWindow, year: int, south: bool, look: Look) -> str:
    """Say the days of a window by what they are called: ``good 18 Apr - 3 Jul, possible 4 Jul - 18 Jul``."""
    return ", ".join(f"{one.part.replace(' ', TIED)} {_span(one, year, south, look)}" for one in opened.parts)


def good_cell(opened: OpenWindow, year: int, south: bool, look: Look) -> str:
    """Say which days of a window are good: ``all``, ``none``, ``to 3 Jul``, ``1 May - 3 Jul``."""
    good = [one for one in opened.parts if one.part == "good"]
    if not good or len(opened.parts) == 1:
        return "" if not opened.parts else "all" if good else "none"
    if len(good) == 1 and good[0] is opened.parts[0]:
        return f"to{TIED}{say_date(good[0].last, year, south)}"
    return ", ".join(_span(one, year, south, look) for one in good)


def _span(part: WindowPart, year: int, south: bool, look: Look) -> str:
    if part.first == part.last:
        return say_date(part.first, year, south)
    return say_span(part.first, part.last, year, south, look)


def most_cell(opened: OpenWindow) -> str:
    """Say the share that the best of a window's starts gives: ``95 %``; nothing for a green manure."""
    return f"{max(share.percent for share in opened.shares)}{TIED}%" if opened.shares else ""


def say_shares(shares: Sequence[StartShare], look: Look) -> str:
    """Say the shares as two numbers a month: ``% of a full crop: Apr - 95, May 100 100``."""
    told = {period_of(share.first): str(share.percent) for share in shares}
    months = []
    for period in range(min(told) // 2 * 2, max(told) + 1, 2):
        halves = (told.get(period, look.dash), told.get(period + 1, look.dash))
        months.append(TIED.join((MONTHS[first_day(period).month - 1][:3], *halves)))
    return f"% of a full crop: {', '.join(months)}"
