"""The names of rules and goals in a grower's words; their codes are for files, settings and ``--details``."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rotasolve.views.words.look import Look

TITLES = {
    "spacing-capacity": "spacing",
    "free-ground": "ground taken",
    "season-window": "season",
    "rest": "rest of the family",
    "family-once": "family once a season",
    "host-years": "years of the family",
    "green-manure-wait": "wait after green manure",
    "manure-interval": "wait after raw manure",
    "closed-bed": "closed bed",
    "pole-side": "order of heights",
    "bed-shadows": "shade between beds",
    "least-sun": "sun",
    "sun-past-neighbours": "sun past the neighbours",
    "repeatable": "last year before the first",
    "must-have": "must have",
    "as-pinned": "fixed by you",
    "household-yield": "kilograms wished",
    "succession-cover": "something to pick when wished",
    "few-changes": "few changes",
    "few-plantings": "few plantings",
    "longer-rest": "longer rest than must be",
    "empty-ground": "no bare ground in the season",
    "winter-cover": "ground covered in winter",
    "little-shade": "little shade on other beds",
    "crop-order": "what follows what",
    "order-of-demand": "heavy and light feeders in turn",
    "good-neighbours": "good neighbours",
}


def title_of(key: str) -> str:
    """Return the name of a rule or a goal; one unknown here keeps its code, without hyphens."""
    return TITLES.get(key, key.replace("-", " "))


def code_of(key: str, look: Look) -> str:
    """Return a rule's code in brackets, where codes are shown; else nothing."""
    return f" [{key}]" if look.codes else ""


def say_title(key: str, look: Look) -> str:
    """Say the name of a rule or a goal, with its code where codes are shown."""
    return f"{title_of(key)}{code_of(key, look)}"
