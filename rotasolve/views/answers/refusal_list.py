"""Beds in which a crop cannot go: every rule that forbids it, year by year, in the rules' own sentences."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_year
from rotasolve.views.words.layout import heading, wrap
from rotasolve.views.words.reasons import say_hindrance
from rotasolve.views.words.titles import say_title, title_of
from rotasolve.views.words.wording import clean, say_date, sentence

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.hindrance import Hindrance
    from rotasolve.domain.place import Refusal
    from rotasolve.views.words.look import Look

_Year = tuple[str, tuple[str, ...]]
"""When the crop would be started, and the reasons against it, one text a rule."""
MOST_SENTENCES = 3
"""The most sentences of one rule about one bed and year, unless every one is asked for."""
MANY = 12
"""With more beds and years than so many, one sentence a rule must do."""


def refusal_list(refusals: Sequence[Refusal], south: bool, look: Look, every: bool = False) -> list[str]:
    """Return the beds that will not do, bed after bed.

    Every rule that forbids a bed in a year is named. Of one rule the sentences that bar the most strips for the
    longest time are said; ``every`` True says all. Years of a bed that are refused for the same reasons, and beds
    that are refused alike throughout, are said once.
    """
    most = 1 if len(refusals) > MANY else MOST_SENTENCES
    told: dict[str, list[_Year]] = {}
    for refusal in refusals:
        reasons = tuple(_by_rule(refusal.hindrances, None if every else most, look))
        told.setdefault(refusal.bed, []).append((_say_start(refusal, south), reasons))
    alike: dict[tuple[_Year, ...], list[str]] = {}
    for bed, years in told.items():
        alike.setdefault(_merged(years), []).append(bed)
    lines = _counts(refusals, look) if len(refusals) > MANY else []
    for merged, beds in alike.items():
        lines += [*([""] if lines else []), *heading(clean(", ".join(beds)), look)]
        for starts, reasons in merged:
            lines += wrap(f"{starts}:", look.text_width, "  ", "    ")
            for reason in reasons:
                lines += wrap(f"- {reason}", look.text_width, "    ", "      ")
    return lines


def _counts(refusals: Sequence[Refusal], look: Look) -> list[str]:
    """Say in how many beds and years each rule stands in the way: the first thing to know of a long list."""
    rules = Counter(rule for refusal in refusals for rule in dict.fromkeys(h.claim.rule for h in refusal.hindrances))
    said = ", ".join(f"{title_of(rule)} in {count}" for rule, count in rules.most_common())
    return wrap(f"Of {len(refusals)} beds and years: {said}.", look.text_width)


def _merged(years: Sequence[_Year]) -> tuple[_Year, ...]:
    """Return the years with the same reasons together."""
    starts: dict[tuple[str, ...], list[str]] = {}
    for start, reasons in years:
        starts.setdefault(reasons, []).append(start)
    return tuple(("; ".join(said), reasons) for reasons, said in starts.items())


def _say_start(refusal: Refusal, south: bool) -> str:
    planting = refusal.planting
    return f"{say_year(refusal.year, south)}, {planting.way} {say_date(planting.start, refusal.year, south)}"


def _by_rule(hindrances: Sequence[Hindrance], most: int | None, look: Look) -> list[str]:
    """Return one text for each rule, in the rules' order: its sentences, and how many more there are."""
    rules: dict[str, list[Hindrance]] = {}
    for hindrance in hindrances:
        rules.setdefault(hindrance.claim.rule, []).append(hindrance)
    texts = []
    for rule, found in rules.items():
        # Said first what bars the most strips, and what bars them longest; what never ends goes before all.
        found.sort(key=lambda h: (-len(h.strips), h.until is not None, -(h.until.toordinal() if h.until else 0)))
        said = list(dict.fromkeys(sentence(say_hindrance(hindrance, look)) for hindrance in found))
        more = 0 if most is None else len(said) - most
        tail = [f"And {more} more like it (--all)."] if more > 0 else []
        texts.append(" ".join([f"{say_title(rule, look)}:", *said[:most], *tail]))
    return texts
