"""Supply over the year on one page: a line of signs for each crop and year, sums, and what a grower should know of."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from rotasolve.domain.seasons import (
    MONTHS,
    PERIODS_PER_YEAR,
    first_day,
    last_day,
    period_of,
    say_year,
    year_start,
)
from rotasolve.views.exports.as_json import SCHEMA_VERSION
from rotasolve.views.words.cautions import supply_cautions
from rotasolve.views.words.hungry_gap import gap_title, say_spring
from rotasolve.views.words.layout import Column, heading, pad, table, wrap
from rotasolve.views.words.wording import TIED, clean, say_crop, say_kg, say_number, sentence

if TYPE_CHECKING:
    from datetime import date

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.scenario import Scenario, Words
    from rotasolve.domain.supply import CropSupply, HalfMonthSupply, Spell, SpringSupply, YieldLevel
    from rotasolve.views.words.look import Look

_YEARS: dict[YieldLevel, str] = {"low": "a poor year", "typical": "a usual year", "high": "a good year"}
_LABEL = 16
_LEAST_WIDTH = _LABEL + 2 * PERIODS_PER_YEAR
_SUMS = (
    ("Wanted", "wanted_g"),
    ("Harvest", "harvested_g"),
    ("Eaten fresh", "eaten_fresh_g"),
    ("Kept", "kept_g"),
    ("Kept and eaten", "eaten_kept_g"),
    ("Spoilt", "spoilt_g"),
    ("Surplus", "surplus_g"),
    ("Short", "short_g"),
)
SUM_COLUMNS = (Column("Crop"), *(Column(name, number=True) for name, _ in _SUMS))
_SPELLS = (
    ("gap", "Gaps: less than half of what is wished"),
    ("glut", "Gluts: more left over than is wished then"),
    ("in store", "In store"),
)


def supply_page(
    scenario: Scenario,
    catalogue: Catalogue,
    supplies: Sequence[CropSupply],
    springs: Sequence[SpringSupply],
    level: YieldLevel,
    look: Look,
) -> str:
    """Return the supply of a plan as text; ``springs`` are left out where only some crops are shown."""
    lines = heading(f"Supply over the year: {clean(scenario.title)}", look, "=")
    lines += wrap(f"Counted with the yields of {_YEARS[level]}.", look.text_width)
    if look.width >= _LEAST_WIDTH and not look.narrow:
        lines += ["", *_maps(scenario, supplies, look)]
    lines += ["", *heading("All years together", look), *_sums(supplies, scenario.words, look)]
    for title, said in [*gap_lists(springs, scenario.site.south, look), *spell_lists(supplies)]:
        lines += ["", *heading(title, look)]
        for text in said:
            lines += wrap(f"- {text}", look.text_width, "", "  ")
        if not said:
            lines.append("none")
    lines += ["", *heading("Please note", look)]
    for text in supply_cautions(supplies, catalogue):
        lines += wrap(f"- {text}", look.text_width, "", "  ")
    return "\n".join(lines) + "\n"


def supply_answer(
    scenario: Scenario,
    catalogue: Catalogue,
    supplies: Sequence[CropSupply],
    springs: Sequence[SpringSupply],
    level: YieldLevel,
) -> dict[str, Any]:
    """Return the supply of a plan for programs: grams by half month, each named by its first day."""
    return {
        "schema_version": SCHEMA_VERSION,
        "title": scenario.title,
        "yield": level,
        "crops": [
            {
                "crop": supply.crop,
                "keeps": supply.keeps,
                "keeps_weeks": supply.keeps_weeks,
                "counted_in": supply.counted_in,
                "kg_per_unit": supply.kg_per_unit,
                "left_in_store_g": supply.left_g,
                "totals": {name: supply.total(name) for _, name in _SUMS},
                "half_months": [
                    {
                        "from": first_day(half.period).isoformat(),
                        **half.model_dump(mode="json", exclude={"period"}),
                        "short_g": half.short_g,
                    }
                    for half in supply.half_months
                ],
                "spells": [
                    {
                        "kind": spell.kind,
                        "from": first_day(spell.first_period).isoformat(),
                        "to": last_day(spell.last_period).isoformat(),
                        "grams": spell.grams,
                        "runs_out": spell.runs_out,
                    }
                    for spell in supply.spells
                ],
            }
            for supply in supplies
        ],
        "springs": [
            {
                **spring.model_dump(
                    mode="json", exclude={"first_period", "last_period", "picked_g", "stored_g", "little_g"}
                ),
                "from": first_day(spring.first_period).isoformat(),
                "to": last_day(spring.last_period).isoformat(),
                "picked_g": dict(spring.picked_g),
                "eaten_from_store_g": dict(spring.stored_g),
                "hungry_below_g": spring.little_g,
            }
            for spring in springs
        ],
        "cautions": list(supply_cautions(supplies, catalogue)),
    }


def _maps(scenario: Scenario, supplies: Sequence[CropSupply], look: Look) -> Iterator[str]:
    free = "." if look.plain else "·"
    legend = (
        f"Four columns a month, two for each half: ff eaten fresh, kk eaten from what is kept, hh harvested "
        "before it is wished, ++ more left over than is wished then, -- less than half of what is wished, "
        f"{free}{free} nothing wished."
    )
    yield from wrap(legend, look.text_width)
    south = scenario.site.south
    for year in scenario.planned_years:
        begin = period_of(year_start(year, south))
        yield ""
        yield from heading(say_year(year, south), look)
        months = [MONTHS[first_day(begin + 2 * month).month - 1][:3] for month in range(12)]
        yield (" " * _LABEL + "".join(pad(month, 4) for month in months)).rstrip()
        for supply in supplies:
            here = {half.period: half for half in supply.half_months}
            signs = [sign_of(here.get(period), free) * 2 for period in range(begin, begin + PERIODS_PER_YEAR)]
            yield pad(clean(supply.crop)[: _LABEL - 1], _LABEL) + "".join(signs)


def sign_of(half: HalfMonthSupply | None, free: str) -> str:
    """Return the sign of a half month, ``free`` where nothing is wished or harvested."""
    if half is None:
        return free
    if half.surplus_g > half.wanted_g:
        return "+"
    if not half.wanted_g:
        return "h" if half.harvested_g else free
    if 2 * half.short_g > half.wanted_g:
        return "-"
    return "f" if half.eaten_fresh_g >= half.eaten_kept_g else "k"


def sum_cells(supplies: Sequence[CropSupply], words: Words) -> list[tuple[str, ...]]:
    """Return a row of ``SUM_COLUMNS`` for each crop, in the grower's words, and one for all of them."""

    def cells(totals: list[int]) -> list[str]:
        return [say_kg(grams / 1000) if grams else "" for grams in totals]

    totals = [[supply.total(name) for _, name in _SUMS] for supply in supplies]
    rows = [(say_crop(supply.crop, words), *cells(here)) for supply, here in zip(supplies, totals, strict=True)]
    if len(rows) > 1:
        rows.append(("all crops", *cells([sum(column) for column in zip(*totals, strict=True)])))
    return rows


def _sums(supplies: Sequence[CropSupply], words: Words, look: Look) -> list[str]:
    lines = table(SUM_COLUMNS, sum_cells(supplies, words), look)
    other = [_in_units(supply) for supply in supplies if supply.counted_in != "kg"]
    if other:
        lines += wrap(sentence(f"in what you count in: {'; '.join(other)}"), look.text_width)
    left = [f"{supply.crop} {say_kg(supply.left_g / 1000)}" for supply in supplies if supply.left_g]
    if left:
        lines += wrap(sentence(f"still in store at the end: {', '.join(left)}"), look.text_width)
    return lines


def _in_units(supply: CropSupply) -> str:
    wanted, got = (supply.total(what) / 1000 / supply.kg_per_unit for what in ("wanted_g", "harvested_g"))
    return f"{supply.crop}, {say_number(wanted, 0)} {supply.counted_in} wanted, {say_number(got, 0)} harvested"


def gap_lists(springs: Sequence[SpringSupply], south: bool, look: Look) -> list[tuple[str, list[str]]]:
    """Return what is said of the hungry gap of some springs, with its title; nothing for none."""
    return [(gap_title(springs), [say_spring(spring, south, look) for spring in springs])] if springs else []


def spell_lists(supplies: Sequence[CropSupply]) -> list[tuple[str, list[str]]]:
    """Return what is said of gaps, gluts and stores: each with its title and a sentence for each crop that has any."""
    return [(title, [text for supply in supplies if (text := _say_spells(supply, kind))]) for kind, title in _SPELLS]


def _say_spells(supply: CropSupply, kind: str) -> str:
    """Say a crop's gaps, gluts or stores in one sentence; empty if it has none."""
    said = [_say_spell(spell) for spell in supply.spells if spell.kind == kind]
    how = f" (kept {supply.keeps})" if kind == "in store" else ""
    return f"{supply.crop}{how}: {'; '.join(said)}." if said else ""


def _say_spell(spell: Spell) -> str:
    first, last = first_day(spell.first_period), last_day(spell.last_period)
    begin = _say_short(first) if first.year == last.year else f"{_say_short(first)} {first.year}"
    text = f"{begin} to {_say_short(last)} {last.year}, {say_kg(spell.grams / 1000)}"
    if spell.kind == "in store":
        return f"{text} at most, " + ("then it runs out" if spell.runs_out else "and beyond the plan")
    return f"{text} {'short' if spell.kind == 'gap' else 'too much'}"


def _say_short(day: date) -> str:
    return f"{day.day}{TIED}{MONTHS[day.month - 1][:3]}"
