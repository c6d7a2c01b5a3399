"""Why windows open and close, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.relations.season import reasons
from rotasolve.relations.season.site_climate import SOIL_DEPTH_M, SOIL_DOUBT_C
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say
from rotasolve.views.words.wording import plain, say_count, say_degrees, say_number, say_short, say_whole_cm

if TYPE_CHECKING:
    from rotasolve.relations.season.crop_seasons import DayJudged
    from rotasolve.relations.season.start_shares import StartShare

__all__ = ["say", "say_judged"]

_SHORT_OF_IT = {
    "soil": "seed comes up slowly and may rot",
    "nights": "expect slow growth, or choose a warmer cover",
    "chill": "young plants may bolt, so set out small ones",
}
_YEARS = {0.1: "1 year in 10 has", 0.5: "1 year in 2 has", 0.9: "9 years in 10 have"}


def say_judged(one: DayJudged, look: Look) -> str:
    """Say whether a day lies in a window, and why not."""
    window = one.window
    if window is None:
        return "never open" if one.closed is None else f"never open: {say(one.closed, look)}"
    if one.open:
        worth = "" if one.share is None else f"; {_say_worth(one, one.share)}"
        return f"open from {say_short(window.earliest)} to {say_short(window.latest)}{worth}"
    if one.day < window.earliest:
        return f"opens on {say_short(window.earliest)}: {say(window.opens[0], look)}"
    return f"closed after {say_short(window.latest)}: {say(window.closes[0], look)}"


def _say_worth(one: DayJudged, share: StartShare) -> str:
    """Say what an open start gives, and which days are good if it is not."""
    text = f"a {share.part}{'' if share.part == 'catch crop' else ' start'}, {share.percent} % of a full crop"
    if share.part == "good" or one.best is None:
        return text
    if one.good:
        spans = (f"{say_short(part.first)} to {say_short(part.last)}" for part in one.good)
        return f"{text}; good from {' and from '.join(spans)}"
    return f"{text}; the best open start gives {one.best.percent} % ({say_short(one.best.first)})"


def _degrees(degrees: float | None) -> str:
    assert degrees is not None  # every reason that is said with degrees has them
    return say_degrees(degrees)


def _day(reason: reasons.WindowReason) -> str:
    assert reason.day is not None  # every reason that is said with its day has one
    return say_short(reason.day)


def _under(cover: str) -> str:
    return "" if cover == "open ground" else f" in the {cover}"


def _soil(look: Look) -> str:
    return f"the soil at {plain(say_whole_cm(100 * SOIL_DEPTH_M, look))}"


def _reaches(reason: reasons.WindowReason, look: Look) -> str:
    what = {
        "soil": f"{_soil(look)} reaches",
        "nights": "mean nights stay above",
        "chill": "the day's mean stays above",
    }[reason.kind]
    return f"{what} {_degrees(reason.degrees_c)}"


def _too_cold(reason: reasons.WindowReason, when: str, look: Look) -> str:
    if reason.kind == "soil":
        return (
            f"{_soil(look)} is below {_degrees(reason.degrees_c)} {when}: too cold to germinate even if the estimate "
            f"is {say_degrees(SOIL_DOUBT_C)} too low"
        )
    return f"mean nights are below {_degrees(reason.degrees_c)} {when}: too cold to be set out"


def _when(reason: reasons.WeeksFrom | reasons.WeeksFromLongestDay) -> str:
    weeks = round(reason.weeks, 1)
    return f"{weeks:g} {'week' if weeks == 1 else 'weeks'} {reason.side}" if reason.weeks else "on"


@say.register
def _(reason: reasons.WeeksFrom, look: Look) -> str:
    worse = "after" if reason.frost == "last" else "before"
    years = f"{_YEARS[reason.chance]} one {worse} it"
    return f"{_when(reason)} the {reason.frost} frost, {say_short(reason.frost_day)} ({years})"


@say.register
def _(reason: reasons.WeeksFromLongestDay, look: Look) -> str:
    return f"{_when(reason)} the longest day, {say_short(reason.longest_day)}"


@say.register
def _(reason: reasons.CoverMoves, look: Look) -> str:
    return f"{reason.days} days {'later' if reason.later else 'earlier'} in the {reason.cover}"


@say.register
def _(reason: reasons.NotRipe, look: Look) -> str:
    return f"a later start is not ripe before the middle of winter, {say_short(reason.darkest_day)}"


@say.register
def _(reason: reasons.LittlePicking, look: Look) -> str:
    return (
        f"a start on {_day(reason)} ripens in {reason.ripens_days} days, which leaves {reason.least_days} days of "
        f"picking before frost ends it on {say_short(reason.end)}"
    )


@say.register
def _(reason: reasons.GivesLittle, look: Look) -> str:
    share = f"{reason.share_percent} % of a full crop"
    return f"a start on {_day(reason)} gives {share}, for light and warmth go down"


@say.register
def _(reason: reasons.PoorBeyond, look: Look) -> str:
    poor = f"give less than {reason.least_percent} % of the best one"
    return f"starts {reason.side} {_day(reason)} {poor}, for warmth and light"


@say.register
def _(reason: reasons.SeasonTooShort, look: Look) -> str:
    until = "its latest day or the middle of winter" if reason.day is None else f"frost ends it on {_day(reason)}"
    return f"the season is too short: from its earliest day it does not ripen before {until}"


@say.register
def _(reason: reasons.WarmFrom, look: Look) -> str:
    return f"{_reaches(reason, look)} from {_day(reason)}{_under(reason.cover)}"


@say.register
def _(reason: reasons.LatestOpening, look: Look) -> str:
    earlier = f", {reason.days_earlier} days earlier{_under(reason.cover)}" if reason.days_earlier else ""
    return f"{_day(reason)} is the latest opening that bulletins give{earlier}"


@say.register
def _(reason: reasons.ShutBeyond, look: Look) -> str:
    when = f"{reason.side} {_day(reason)}"
    if reason.kind == "heat":
        return f"{_soil(look)} is warmer than {_degrees(reason.degrees_c)} {when}, too hot to germinate"
    return _too_cold(reason, when + _under(reason.cover), look)


@say.register
def _(reason: reasons.ShutThroughout, look: Look) -> str:
    when = f"from {say_short(reason.first)} to {say_short(reason.last)}{_under(reason.cover)}"
    return _too_cold(reason, when, look)


@say.register
def _(reason: reasons.WarmTooLate, look: Look) -> str:
    only = f"only after {say_short(reason.last)}{_under(reason.cover)}"
    return f"{_reaches(reason, look)} {only}, the last day that still pays"


@say.register
def _(reason: reasons.NeverRight, look: Look) -> str:
    return f"in its season {_soil(look)} is always too cold or too hot to germinate"


@say.register
def _(reason: reasons.OpensCold, look: Look) -> str:
    when = "on no day of this window" if reason.day is None else f"only from {_day(reason)}"
    return f"{_reaches(reason, look)} {when}{_under(reason.cover)}: {_SHORT_OF_IT[reason.kind]}"


@say.register
def _(reason: reasons.HotDays, look: Look) -> str:
    hot = f"above {_degrees(reason.degrees_c)} from {_day(reason)} to {say_short(reason.last)}"
    return f"the day's mean is {hot}: expect bolting or poor quality from starts then"


@say.register
def _(reason: reasons.BeforeLastFrost, look: Look) -> str:
    text = (
        f"{say_short(reason.start)} is {say_count(reason.days_early, 'day')} before the last frost of 1 year in 2 "
        f"({_day(reason)}): in {reason.frost_percent} years of 100 frost still comes, and {reason.crop} dies of it"
    )
    if reason.night_gain_c is not None:
        text += f"; count on no more than {say_number(reason.night_gain_c)} degC from the {reason.cover}"
    if reason.frosty_nights_percent is not None:
        text += f", with which {reason.frosty_nights_percent} nights of 100 about that date still freeze"
    return text
