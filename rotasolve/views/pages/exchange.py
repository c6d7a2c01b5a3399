"""The exchange curve on one page: a line for each point, with what falls short first."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rotasolve.views.exports.as_json import SCHEMA_VERSION
from rotasolve.views.words.layout import Column, heading, table, wrap
from rotasolve.views.words.wording import TIED, clean, plain, say_count, say_kg, say_number, say_share

if TYPE_CHECKING:
    from rotasolve.domain.exchange import Exchange, ExchangePoint
    from rotasolve.domain.plan import Plan
    from rotasolve.views.words.look import Look

_MOST_NAMED = 3
_LEAST_SHARE = 0.005
"""A crop short by less would be said to be short by 0 %."""
_WIDEST_BAR = 30
_OUTCOMES = {"impossible": "no plan can hold every rule", "none found": "no plan found in the time"}


def exchange_page(exchange: Exchange, look: Look) -> str:
    """Return an exchange curve as text."""
    title = "More people" if exchange.crop is None else f"More {exchange.crop}"
    lines = heading(f"{title}, and what it costs: {clean(exchange.scenario_title)}", look, "=")
    lines += wrap(_explain(exchange), look.text_width)
    first = Column("People" if exchange.crop is None else "A year", number=True)
    columns = (
        first,
        Column("Points lost", number=True),
        Column("At least", number=True),
        Column("Gap", number=True),
        Column("Short", number=True),
        Column("Falls short first"),
    )
    lines += ["", *table(columns, [_row(exchange, point) for point in exchange.points], look), ""]
    lines += _bars(exchange, look)
    found = f"Found within the limit of {exchange.limit}, seed {exchange.seed}"
    took = f", in {say_number(exchange.seconds)} s." if exchange.seconds is not None else "."
    lines += ["", *wrap(found + took, look.text_width)]
    return "\n".join(lines) + "\n"


def exchange_answer(exchange: Exchange) -> dict[str, Any]:
    """Return an exchange curve for programs, each point with its plan."""
    return {
        "schema_version": SCHEMA_VERSION,
        **exchange.model_dump(mode="json"),
        "points": [
            {**point.model_dump(mode="json"), "short_kg": None if point.plan is None else _short_kg(point.plan)}
            for point in exchange.points
        ],
    }


def _explain(exchange: Exchange) -> str:
    if exchange.crop is None:
        what = "All targets grow with the number of people, and surplus costs nothing."
    else:
        what = f"So much {exchange.crop} is demanded in every year; the points are those of all other wishes."
    return (
        f"{what} Each line is the best plan known for it: the points it loses, and those that every plan must lose "
        "there. 'Short' are the kilograms missing in a year on average; yields are estimates."
    )


def say_amount(exchange: Exchange, amount: float) -> str:
    """Say a point's amount: people, or kilograms."""
    return say_number(amount, 2) if exchange.crop is None else say_kg(amount)


def _row(exchange: Exchange, point: ExchangePoint) -> tuple[str, ...]:
    amount = say_amount(exchange, point.amount)
    if point.plan is None or point.lost is None:
        return (amount, "", "", "", "", _OUTCOMES.get(point.outcome, ""))
    gap = "proven best" if point.outcome == "proven best" else say_share(point.gap)
    short = say_kg(_short_kg(point.plan))
    return (amount, f"{point.lost:,}", f"{point.at_least_lost:,}", gap, short, _first_short(point.plan))


def _short_kg(plan: Plan) -> float:
    """Return the kilograms missing in a year, on average over the years."""
    return round(sum(outcome.short_kg for outcome in plan.targets) / plan.years, 3)


def _first_short(plan: Plan) -> str:
    short: dict[str, float] = {}
    wanted: dict[str, float] = {}
    for outcome in plan.targets:
        short[outcome.crop] = short.get(outcome.crop, 0.0) + outcome.short_kg
        wanted[outcome.crop] = wanted.get(outcome.crop, 0.0) + outcome.wanted_kg
    shares = sorted(((short[crop] / wanted[crop], crop) for crop in short), reverse=True)
    shares = [(share, crop) for share, crop in shares if share >= _LEAST_SHARE]
    named = [f"{crop} {say_number(share * 100, 0)}{TIED}%" for share, crop in shares[:_MOST_NAMED]]
    more = len(shares) - len(named)
    return ", ".join(named) + (f" and {say_count(more, 'more crop')}" if more > 0 else "") if named else "nothing"


def _bars(exchange: Exchange, look: Look) -> list[str]:
    lost = [point.lost for point in exchange.points if point.lost is not None]
    top = max(lost, default=0)
    if not top:
        return []
    sign = "#" if look.plain else "█"
    labels = [plain(say_amount(exchange, point.amount)) for point in exchange.points]
    room = max(len(label) for label in labels)
    widest = max(5, min(_WIDEST_BAR, look.width - room - 12))
    return [
        f"{label.rjust(room)} {sign * max(1, round(widest * point.lost / top))} {point.lost:,}"
        for label, point in zip(labels, exchange.points, strict=True)
        if point.lost is not None
    ]
