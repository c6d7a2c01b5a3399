"""Places where a crop can go, best first: what it would be there, how it stands for sun, and what it leaves free."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import MONTHS, say_year
from rotasolve.domain.strips import say_strips
from rotasolve.views.words.crop_shares import say_crop_share
from rotasolve.views.words.layout import wrap
from rotasolve.views.words.wording import (
    TIED,
    say_count,
    say_date,
    say_kg,
    say_length,
    say_number,
    say_runs,
    say_span,
    sentence,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from rotasolve.domain.place import Place, Places, Remark
    from rotasolve.domain.plan import Planting
    from rotasolve.views.words.look import Look

MOST_ROWS = 12
"""The most places that are listed unless every one is asked for."""
_MOST_OTHERS = 4


def place_list(places: Sequence[Place], south: bool, look: Look, every: bool = False) -> list[str]:
    """Return the places as a numbered list; beds in which all is alike share a row.

    Parameters
    ----------
    every
        True lists each place. Default: the best of each bed and garden year, with the others summed up beside it, and
        no more than ``MOST_ROWS`` rows.
    """
    groups: dict[tuple[object, ...], list[Place]] = {}
    for number, place in enumerate(places):
        key = (number,) if every else (place.planting.bed, place.planting.begins_in(south))
        groups.setdefault(key, []).append(place)
    alike: dict[tuple[str, ...], list[str]] = {}
    for group in groups.values():
        alike.setdefault(_facts(group, south, look), []).append(group[0].planting.bed)
    shown = list(alike.items())[: None if every else MOST_ROWS]
    digits, lines = len(str(len(shown))), []
    for number, ((first, *facts), beds) in enumerate(shown, start=1):
        label = f"{number:>{digits}}. "
        lines += wrap(f"{', '.join(beds)}: {first}", look.text_width, label, " " * len(label))
        for fact in facts:
            lines += wrap(sentence(fact), look.text_width, " " * len(label))
    more = len(groups) - sum(len(beds) for _, beds in shown)
    if more:
        which = "1 more bed and year has" if more == 1 else f"{more} more beds and years have"
        lines += wrap(f"{which} a place as well (--all).", look.text_width)
    return lines


def say_days(planting: Planting, south: bool, look: Look) -> str:
    """Say when a planting is raised, started, picked and cleared, within the garden year of its start."""
    year = planting.begins_in(south)
    told = [f"{planting.way} {say_date(planting.start, year, south)}"]
    if planting.raise_from is not None:
        told.insert(0, f"sown indoors {say_date(planting.raise_from, year, south)}")
    if planting.first_harvest is not None and planting.last_harvest is not None:
        told.append(f"picked {say_span(planting.first_harvest, planting.last_harvest, year, south, look)}")
    return ", ".join([*told, f"cleared {say_date(planting.clear, year, south)}"])


def say_where(planting: Planting, look: Look) -> str:
    """Say a planting's bed and strips."""
    return f"{planting.bed}, {_say_strips(planting.strips, look)}"


def _say_strips(strips: Sequence[int], look: Look) -> str:
    return say_strips(strips, look.dash).replace(" ", TIED, 1)


def say_plants(planting: Planting) -> str:
    """Say a planting's plants and rows."""
    return f"{say_count(planting.plants, 'plant')} in {say_count(planting.rows, 'row')}"


def say_harvest(planting: Planting) -> str:
    """Say what a planting yields in a poor, a usual and a good year; an empty text if nothing is picked."""
    got = planting.harvest
    low, usual, high = (say_kg(kg) for kg in (got.low_kg, got.typical_kg, got.high_kg))
    if not got.high_kg:
        return ""
    if low == high:
        return f"about {usual}, of which no range is known"
    return f"{low} in a poor year, {usual} in a usual one, {high} in a good one"


def _facts(group: Sequence[Place], south: bool, look: Look) -> tuple[str, ...]:
    """Say all there is to say of the best place of a group but its bed; what its shade comes from counts too."""
    place = group[0]
    planting = place.planting
    told = [
        f"{_say_strips(planting.strips, look)}, {say_year(planting.begins_in(south), south)}; "
        f"{say_days(planting, south, look)}",
        ": ".join(part for part in (say_plants(planting), say_harvest(planting)) if part),
        "" if place.crop_share is None else say_crop_share(place.crop_share, planting.way),
        "; ".join(
            part
            for part in (
                _say_shade(place, look),
                _say_sun(place),
                _say_free(place, south, look),
                _say_rest(place),
            )
            if part
        ),
        *map(_say_remark, place.remarks),
        _say_others(group, south, look),
    ]
    return tuple(text for text in told if text)


def _say_remark(remark: Remark) -> str:
    words = {"good": "does well after", "bad": "does poorly after", "avoid": "is better kept from following"}
    return f"{remark.crop} {words[remark.effect]} {remark.after} (evidence: {remark.evidence})"


def say_notes(found: Places) -> list[str]:
    """Say what was not counted, and whether quick kinds were."""
    uncounted = "names no strips and is not counted; ask against a plan."
    told = [f"{pin.crop} fixed in {pin.bed} {uncounted}" for pin in found.loose_pins]
    if found.quick_days is not None:
        kinds = f"quick kinds of {found.question.crop} are counted ({found.quick_days} days)"
        told.append(f"{kinds}: usual ones give less here, or do not ripen")
    return told


def _say_shade(place: Place, look: Look) -> str:
    shade = place.shade
    if shade is None:
        return "no noon shade"
    whose = shade.crop if shade.bed == place.planting.bed else f"{shade.crop} in {shade.bed}"
    return f"noon shade up to {say_length(shade.depth_cm, look)} deep from {whose} in {MONTHS[shade.month - 1]}"


def _say_sun(place: Place) -> str:
    if place.sun is None:
        return ""
    return f"at least {say_number(place.sun.hours)}{TIED}h of sun a day ({MONTHS[place.sun.month - 1]})"


def _say_free(place: Place, south: bool, look: Look) -> str:
    strips = place.free_strips
    beside = f"{_say_strips(strips, look)} left free beside it" if strips else "no strip left free beside it"
    if place.free_until is None:
        return f"{beside}, nothing planned after it"
    year = place.planting.begins_in(south)
    return f"{beside}, its own strips free after it until {say_date(place.free_until, year, south)}"


def _say_rest(place: Place) -> str:
    if place.rest_years is None:
        return "its family has no other planting here"
    return f"{say_count(place.rest_years, 'complete year')} between it and the nearest planting of its family"


def _say_others(group: Sequence[Place], south: bool, look: Look) -> str:
    """Sum up the other places of the same bed and garden year: other strips on the same day, and other days."""
    best = group[0].planting
    year = best.begins_in(south)
    others = [place.planting for place in group[1:]]
    same_day = [p for p in others if (p.start, p.way) == (best.start, best.way) and p.strips != best.strips]
    told = []
    if same_day:
        runs = dict.fromkeys(say_runs(strips, look) for strips in sorted({p.strips for p in same_day}))
        told.append(f"also strips{TIED}{_few(runs, ' or ')}")
    for way in dict.fromkeys(p.way for p in others):
        days = sorted({p.start for p in others if p.way == way} - ({best.start} if way == best.way else set()))
        if days:
            told.append(f"also {way} {_few((say_date(day, year, south) for day in days), ', ')}")
    return "; ".join(told)


def _few(texts: Iterable[str], joint: str) -> str:
    listed = list(texts)
    shown = joint.join(listed[:_MOST_OTHERS])
    return f"{shown} and {len(listed) - _MOST_OTHERS} more" if len(listed) > _MOST_OTHERS else shown
