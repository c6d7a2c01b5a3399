"""Sun on the beds: hours by strip and month, what takes them, and spots for a new bed."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import MONTHS
from rotasolve.views.words.layout import Column, heading, table, wrap
from rotasolve.views.words.wording import TIED, clean, say_length, say_number, say_runs, say_share, sentence

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from rotasolve.domain.scenario import Scenario
    from rotasolve.domain.sun import Spot, StripSun
    from rotasolve.views.words.look import Look

MOST_SPOTS_SHOWN = 10


def sun_notes(scenario: Scenario, found: Sequence[StripSun]) -> tuple[str, ...]:
    """Return what the hours leave out."""
    notes = ["Hours of direct sun a day on clear days, on the ground; clouds, slopes and hills are not counted"]
    typed = sorted({sun.bed for sun in found if sun.typed})
    if typed:
        notes.append(f"Hours typed in for midsummer, shortened with the day for other months: {', '.join(typed)}")
    unknown = [bed.name for bed in scenario.beds if bed.name not in {sun.bed for sun in found}]
    if unknown:
        notes.append(f"Nothing is known of {', '.join(unknown)}: give east and north, or sun_hours")
    if any(obstacle.kind == "tree" and not obstacle.light_through for obstacle in scenario.obstacles):
        notes.append("Trees count as full of leaves all year: give light_through if they let sun through")
    return tuple(sentence(note) for note in notes)


def sun_page(scenario: Scenario, found: Sequence[StripSun], look: Look, standing: str = "") -> str:
    """Return the sun of every strip: whole hours by month, or hours and the share of full sun for a single month."""
    months = list(dict.fromkeys(sun.month for sun in found))
    when = f" in {MONTHS[months[0] - 1]}" if len(months) == 1 else ""
    title = f"{clean(scenario.title)}: direct sun{when}{standing}, hours (h) a day"
    lines = [*heading(title, look, "="), *_in_words(found, look), ""]
    open_hours = {sun.month: sun.open_hours for sun in found}
    if len(months) == 1:
        columns = [Column("Bed"), Column("Strip", True), Column("Sun", True), Column("Of full sun", True)]
        rows = [
            [
                bed,
                say_runs(strips, look),
                f"{say_number(suns[0].hours)} h",
                "" if suns[0].typed else say_share(suns[0].share),
            ]
            for bed, strips, suns in _runs(found, 1)
        ]
    else:
        columns = [Column("Bed"), Column("Strip", True), *(Column(MONTHS[m - 1][:3], True) for m in months)]
        rows = [
            [bed, say_runs(strips, look), *(say_number(sun.hours, 0) for sun in suns)]
            for bed, strips, suns in _runs(found, 0)
        ]
        rows.append(["open ground", "", *(say_number(open_hours[month], 0) for month in months)])
    if look.narrow and len(months) > 1:
        lines += [*_sun_lines(rows, months, look), ""]
    else:
        lines += [*table(columns, rows, look), ""]
    for note in sun_notes(scenario, found):
        lines += wrap(note, look.text_width, "", "  ")
    return "\n".join(lines)


_FULL, _PART = 6.0, 3.0
"""Hours a day from which growers speak of full sun and of part shade: the words on seed packets, common practice."""


def _in_words(found: Sequence[StripSun], look: Look) -> list[str]:
    """Say of each bed whether it lies in full sun, part shade or shade, by its mean in the sunniest month shown."""
    month = max(found, key=lambda sun: sun.open_hours).month
    beds: dict[str, list[float]] = {}
    for sun in found:
        if sun.month == month:
            beds.setdefault(sun.bed, []).append(sun.hours)
    kinds: dict[str, list[str]] = {"full sun": [], "part shade": [], "shade": []}
    for bed, hours in beds.items():
        mean = sum(hours) / len(hours)
        kinds["full sun" if mean >= _FULL else "part shade" if mean >= _PART else "shade"].append(bed)
    limits = {
        "full sun": f"{_FULL:g} h a day or more",
        "part shade": f"{_PART:g} to {_FULL:g} h",
        "shade": f"less than {_PART:g} h",
    }
    told = [f"{kind} ({limits[kind]}): {', '.join(names)}" for kind, names in kinds.items() if names]
    return wrap(f"In {MONTHS[month - 1]}: {'; '.join(told)}.", look.text_width)


def _sun_lines(rows: Iterable[Sequence[str]], months: Sequence[int], look: Look) -> list[str]:
    """Return each strip with its months in a row of words, where the page is too narrow for twelve columns."""
    lines = []
    for bed, strips, *hours in rows:
        lines += wrap(f"{bed}, strip{TIED}{strips}" if strips else bed, look.text_width)
        told = [f"{MONTHS[month - 1][:3]}{TIED}{hour}" for month, hour in zip(months, hours, strict=True)]
        lines += wrap(", ".join(told), look.text_width, "  ")
    return lines


def _runs(found: Iterable[StripSun], digits: int) -> list[tuple[str, list[int], list[StripSun]]]:
    """Return bed, strips and their months, neighbouring strips that read alike put together."""
    by_strip: dict[tuple[str, int], list[StripSun]] = {}
    for sun in found:
        by_strip.setdefault((sun.bed, sun.strip), []).append(sun)

    def said(strip: tuple[str, int]) -> tuple[str, list[tuple[float, str]]]:
        suns = by_strip[strip]
        return strip[0], [(round(sun.hours, digits), say_share(sun.share) if digits else "") for sun in suns]

    runs = []
    for (bed, _), group in groupby(by_strip, key=said):
        alike = list(group)
        runs.append((bed, [strip for _, strip in alike], by_strip[alike[0]]))
    return runs


def why_page(scenario: Scenario, found: Sequence[StripSun], look: Look, standing: str = "") -> str:
    """Return what takes the sun of one strip, month by month, what shades it most first."""
    first = found[0]
    title = f"{clean(scenario.title)}: what takes the sun of strip {first.strip} of {clean(first.bed)}{standing}"
    lines = [*heading(title, look, "="), ""]
    if first.typed:
        text = "Its hours were typed in, so nothing is known of what casts shade there; take sun_hours out to see"
        return "\n".join([*lines, *wrap(sentence(text), look.text_width)])
    if not any(sun.casters for sun in found):
        text = f"nothing known here takes its sun: {_spread(found)} a day, as on open ground"
        return "\n".join([*lines, *wrap(sentence(text), look.text_width)])
    rows = []
    for sun in found:
        month = MONTHS[sun.month - 1]
        whole = f"{say_number(sun.hours)} of {say_number(sun.open_hours)} h"
        if not sun.casters:
            rows.append([month, whole, "nothing", "", "", ""])
        for number, caster in enumerate(sun.casters):
            rows.append(
                [
                    month if number == 0 or look.narrow else "",
                    whole if number == 0 or look.narrow else "",
                    caster.name,
                    f"{say_number(caster.hours, 2 if caster.hours < 0.1 else 1)} h",
                    say_share(caster.share),
                    f"{_clock(caster.from_hour)} to {_clock(caster.to_hour)}",
                ]
            )
    columns = [
        Column("Month"),
        Column("Sun", True),
        Column("What shades it"),
        Column("Takes", True),
        Column("Of full sun", True),
        Column("Between", True),
    ]
    lines += [*table(columns, rows, look), ""]
    text = "Each is counted as if it stood alone: together they may take less than their sum. Times are solar: "
    lines += wrap(text + "at 12:00 the sun is at its highest.", look.text_width, "", "  ")
    return "\n".join(lines)


def _clock(hour: float) -> str:
    minutes = round(hour * 60)
    return f"{minutes // 60}:{minutes % 60:02d}"


def _spread(found: Sequence[StripSun]) -> str:
    low, high = min(sun.hours for sun in found), max(sun.hours for sun in found)
    if len(found) == 1:
        return f"{say_number(low)} h"
    return f"{say_number(low)} h to {say_number(high)} h"


def spot_page(scenario: Scenario, spots: Sequence[Spot], months: Sequence[int], look: Look, tilted: bool) -> str:
    """Return the best spots, or every bearing of one spot, most sun first."""
    when = ", ".join(MONTHS[month - 1] for month in months)
    lines = [*heading(f"{clean(scenario.title)}: spots by sun in {when}", look, "="), ""]
    rows = [
        [
            f"{_aside(spot.east, 'east', 'west', look)}, {_aside(spot.north, 'north', 'south', look)}",
            f"{spot.bearing:.0f} deg",
            say_share(spot.share),
            f"{say_number(spot.hours)} h",
            say_share(spot.darker_side) if spot.darker_side is not None else "",
        ]
        for spot in spots[:MOST_SPOTS_SHOWN]
    ]
    columns = [
        Column("Middle"),
        Column("Bearing", True),
        Column("Of full sun", True),
        Column("Sun a day", True),
        Column("Darker side", True),
    ]
    lines += [*table(columns, rows, look), ""]
    for note in spot_notes(tilted):
        lines += wrap(note, look.text_width, "", "  ")
    return "\n".join(lines)


def _aside(cm: float, ahead: str, back: str, look: Look) -> str:
    return f"{say_length(abs(cm), look)} {ahead if cm >= 0 else back}"


def spot_notes(tilted: bool) -> tuple[str, ...]:
    """Return how a table of spots is to be read."""
    notes = [
        "The bearing is that of the long side, in degrees clockwise from north. Of full sun: beside the sunshine of "
        "clear days on level ground in the open; a pane that leans to the sun gets more than 100 %. Beds already there "
        "count as flat, obstacles cast shade",
        "Spots lie between the beds and obstacles and a metre around them: which of that ground is yours, and has a "
        "path to it, only you know (--at compares the bearings of a spot of your choice)",
    ]
    if tilted:
        notes.append("The pane falls away to the right of the bearing: at 90 degrees it faces south, at 270 north")
        notes.append("Glass breaks and hurts: fix lids against wind, and open them on sunny days")
    return tuple(sentence(note) for note in notes)
