"""Crops as a list, and one crop in full with the source of every figure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.figure import Figure
from rotasolve.domain.scenario import Rules
from rotasolve.relations.ground.lie_of_beds import height_class
from rotasolve.relations.season.own_days import OWN_SOURCE
from rotasolve.views.words.layout import Column, heading, table, wrap
from rotasolve.views.words.own_yields import say_own_yield
from rotasolve.views.words.statures import HEIGHT_CLASSES
from rotasolve.views.words.wording import TIED, clean, say_crop, say_length, say_number, sentence

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rotasolve.domain.catalogue import Catalogue, Source
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.record import Record
    from rotasolve.domain.scenario import Words
    from rotasolve.relations.season.own_yields import OwnYield
    from rotasolve.views.words.look import Look

_COLUMNS = (
    Column("Crop"),
    Column("Family"),
    Column("Height"),
    Column("In the row", number=True),
    Column("Between rows", number=True),
    Column("Hardiness"),
)
_OWN_LABELS = {
    "sun_hours_least": "least sun",
    "least_night": "coldest night borne",
    "germination_least": "coldest soil for germination",
    "germination_most": "warmest soil for germination",
    "sowing_soil": "soil advised for sowing",
    "bolting_below": "may bolt below",
    "growth_least": "grows from a mean of",
    "growth_best": "grows best at a mean of",
    "growth_most": "suffers above a mean of",
    "least_rows": "fewest rows",
    "days_to_emerge": "seedlings after",
    "seeds_per_gram": "weight of seed",
    "seeds_per_place": "sown for each plant",
    "seed_rate": "sown broadcast",
    "thin_after": "thinned after",
    "earth_up_after": "earthed up after",
    "wait_after": "ground waits after it",
    "pot_on_after": "potted on after",
    "spacing_in_row": "distance in the row",
    "spacing_between_rows": "distance between rows",
    "harvest_weeks": "picked for",
    "standing_weeks": "stands ripe for",
    "stands_to": "stands in nights down to",
    "winter_loss": "lost in each month of winter",
    "spring_share": "planted in spring it yields, of autumn's",
    "days_known_at": "these days were counted at a mean of",
    "storage_weeks": "keeps for",
    "kg_per_meal": "harvested for a meal",
    "kg_per_litre_of_jars": "harvested for a litre of jars",
    "jar_weeks": "jars keep for",
    "days_to_harvest": "until the first picking",
    "weeks_indoors": "before that indoors",
}


_MOST_LISTED = 2
"""Other names that the list of all crops shows beside a crop; its own page has all of them."""


def crop_list(catalogue: Catalogue, look: Look) -> str:
    """Return all crops, one a row, by name."""
    crops = sorted(catalogue.crops, key=lambda crop: crop.name.casefold())
    rows = [
        (
            crop.name + (f" ({', '.join(crop.also[:_MOST_LISTED])})" if crop.also else ""),
            crop.family,
            f"{HEIGHT_CLASSES[height_class(crop, Rules())]}, {say_length(crop.height.usual, look)}",
            say_length(crop.spacing_in_row.usual, look),
            say_length(crop.spacing_between_rows.usual, look),
            crop.hardiness.level,
        )
        for crop in crops
    ]
    return "\n".join(table(_COLUMNS, rows, look)) + "\n"


class _Citations:
    """Numbers the sources in the order in which they are first called upon."""

    def __init__(self) -> None:
        self.keys: list[str] = []

    def mark(self, keys: Iterable[str]) -> str:
        """Return the marks of some sources: ``[1, 3]``."""
        for key in keys:
            if key not in self.keys:
                self.keys.append(key)
        return f"[{', '.join(str(number) for number in sorted(self.keys.index(key) + 1 for key in keys))}]"


def crop_card(
    crop: Crop,
    catalogue: Catalogue,
    look: Look,
    own: OwnYield | None = None,
    words: Words | None = None,
    told: Crop | None = None,
) -> str:
    """Return everything known of a crop, every figure with its unit and its source.

    Parameters
    ----------
    own
        How its yield is shifted by what was weighed. Default: not at all.
    told
        The crop with the grower's own figures, which are set beside the published ones. Default: there are none.
    words
        The grower's own words for crops. Default: the catalogue's names.
    """
    cited = _Citations()
    lines = heading(clean(say_crop(crop.name, words or {})), look, "=")
    family = next((family for family in catalogue.families if family.name == crop.family), None)
    kinds = ", ".join(one.name for one in catalogue.crops if one.kind_of == crop.name)
    facts = [("also called", ", ".join(crop.also)), ("a kind of", crop.kind_of or ""), ("its kinds", kinds)]
    facts.append(("species", crop.species))
    facts.append(("family", f"{crop.family} ({family.common_name})" if family else crop.family))
    if family is not None and family.rest and crop.counts_for_rest:
        rest = f"{family.gap_hard} complete years without the family, wished {family.gap_wished}"
        facts.append(("rest", f"{rest} {cited.mark(family.source)}"))
    facts += [("rest", crop.rest_note), ("feeds", "fixes nitrogen" if "fixes" in crop.feeder else f"{crop.feeder}")]
    if crop.green_manure:
        facts.append(("use", "green manure"))
    else:
        facts.append(("picking", "all at once" if crop.picking == "once" else "again and again"))
    facts.append(("hardiness", f"{crop.hardiness.level} {cited.mark(crop.hardiness.source)}"))
    facts += [("yield counted", say_own_yield(own))] if own is not None else []
    facts += list(_figures(crop, told, look, cited))
    facts += list(_growth(crop, look, cited))
    facts += list(_raising(crop, look, cited))
    for nth, start in enumerate(crop.starts):
        facts.append((start.way, ""))
        mine = told.starts[nth] if told is not None and len(told.starts) == len(crop.starts) else None
        facts += [(f"  {label}", text) for label, text in _figures(start, mine, look, cited)]
    for label, text in facts:
        if text or label in ("sown in place", "set out"):
            lines += wrap(f"{label.strip()}: {text}" if text else f"{label}:", look.text_width, _indent(label), "    ")
    if crop.cautions:
        lines += ["", *heading("Please note", look)]
        for caution in crop.cautions:
            lines += wrap(f"- {sentence(caution)}", look.text_width, "", "  ")
    lines += ["", *heading("Sources", look)]
    for number, key in enumerate(cited.keys, start=1):
        lines += wrap(f"[{number}] {say_source(key, catalogue.sources.get(key))}", look.text_width, "", "    ")
    return "\n".join(lines) + "\n"


def _indent(label: str) -> str:
    return label[: len(label) - len(label.lstrip())]


def _fields(record: object) -> Iterator[tuple[str, Figure]]:
    for name in getattr(type(record), "model_fields", {}):
        figure = getattr(record, name)
        if isinstance(figure, Figure):
            yield _OWN_LABELS.get(name, name.replace("_", " ")), figure


def _figures(published: Record, own: Record | None, look: Look, cited: _Citations) -> Iterator[tuple[str, str]]:
    """Yield (label, figure), each of the grower's own figures behind the published one."""
    mine = {label: figure for label, figure in _fields(own) if OWN_SOURCE in figure.source}
    for label, figure in _fields(published):
        yield label, _say_figure(figure, look, cited)
        if (counted := mine.pop(label, figure)) != figure:
            # Own days are counted as published ones (``own_days``): what was told is in the note.
            days = counted.note if counted.unit == "days" else ""
            said = f"{days} {cited.mark(counted.source)}" if days else _say_figure(counted, look, cited)
            yield f"{label}, your own", said
    for label, figure in mine.items():
        yield f"{label}, your own", _say_figure(figure, look, cited)


def _growth(crop: Crop, look: Look, cited: _Citations) -> Iterator[tuple[str, str]]:
    warmth, water = crop.degree_days, crop.water
    if warmth is not None:
        yield "degree days counted above", f"{_say_figure(warmth.base, look, cited)}, by the {warmth.method}"
        if warmth.ceiling is not None:
            yield "and up to", _say_figure(warmth.ceiling, look, cited)
    if water is not None:
        stages = (water.initial_days, water.development_days, water.middle_days, water.late_days)
        note = f"; {water.note}" if water.note else ""
        yield (
            "water it takes, beside 1 for short grass",
            f"{water.initial:g} at first, {water.middle:g} in the middle, {water.end:g} at the end; stages of "
            f"{', '.join(str(days) for days in stages[:3])} and {stages[3]} days{note} {cited.mark(water.source)}",
        )


def _raising(crop: Crop, look: Look, cited: _Citations) -> Iterator[tuple[str, str]]:
    if crop.raising is not None:
        for label, figure in _fields(crop.raising):
            yield f"raised indoors, {label}", _say_figure(figure, look, cited)
    if crop.support is not None:
        yield "support", f"{crop.support.what} for each {crop.support.for_each} {cited.mark(crop.support.source)}"
    advice = {
        "set deep": crop.set_deep,
        "water at the base": crop.water_at_base,
        "insect mesh": crop.mesh,
        "the part eaten does not touch the soil": crop.clear_of_soil,
    }
    for label, one in advice.items():
        if one is not None:
            yield label, f"{one.how} {cited.mark(one.source)}"


def _say_figure(figure: Figure, look: Look, cited: _Citations) -> str:
    text = _say_value(figure.usual, figure.unit, look)
    if figure.least != figure.most:
        # The unit is said once where both ends have the figure's own.
        own = not look.inches and figure.most < 100 if figure.unit == "cm" else figure.unit != "degC"
        low = _number(figure.least, figure.unit) if own else _say_value(figure.least, figure.unit, look)
        text += f" ({low} to {_say_value(figure.most, figure.unit, look)})"
    note = f"; {figure.note}" if figure.note else ""
    return f"{text}{note} {cited.mark(figure.source)}"


def _say_value(value: float, unit: str, look: Look) -> str:
    if unit == "cm":
        return say_length(value, look)
    if unit == "degC":
        return f"{say_number(value)}{TIED}degrees C"
    counted, blank, rest = unit.partition(" ")
    one = abs(value) == 1 and counted in _COUNTED
    return f"{_number(value, unit)}{TIED}{counted[:-1] if one else counted}{blank}{rest}"


_COUNTED = ("weeks", "days", "hours", "months", "years", "plants", "rows", "seeds")
"""Units that lose their s beside a one."""


def _number(value: float, unit: str) -> str:
    return say_number(value, 1 if unit == "cm" else 2)


def say_source(key: str, source: Source | None) -> str:
    """Say where a figure was read; the key alone if it is not described."""
    if source is None:
        return key
    parts = [source.title, source.publisher, source.year, source.section, source.address]
    return ", ".join(part for part in parts if part)
