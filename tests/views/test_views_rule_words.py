"""What the rules find with a length in it, word for word in metric and in inches and feet."""

from __future__ import annotations

import importlib
from dataclasses import fields
from datetime import date
from pathlib import Path

import pytest

import rotasolve.rules
from rotasolve.domain.claim import Facts
from rotasolve.relations.ground.height_order import Stature
from rotasolve.rules.bed_shadows import Reaches, WouldReach
from rotasolve.rules.pole_side import OutOfOrder, Shades, WrongSide
from rotasolve.rules.spacing_capacity import RowsTooDeep, RowTooShort
from rotasolve.views.words.look import Look
from rotasolve.views.words.rules import say
from rotasolve.views.words.wording import plain

BEAN, KALE = Stature("bean", 2, 200), Stature("kale", 1, 76.2)
MAY = date(2027, 5, 1)

# An inch is 2.54 cm by the international yard and pound agreement of 1959: 200 cm = 78.74 in = 6 ft 6.7 in,
# 76.2 cm = 30 in = 2 ft 6 in, 152.4 cm = 5 ft, 60.96 cm = 2 ft, 45.72 cm = 18 in, 121.92 cm = 4 ft.
SAID = [
    (RowTooShort(152.4, 121.92), "needs 1.52 m in the row, 1.22 m free", "needs 5 ft in the row, 4 ft free"),
    (
        RowsTooDeep(4, 45.72, 121.92),
        "needs a block of 4 rows 45.7 cm apart, 1.22 m free",
        "needs a block of 4 rows 18 in apart, 4 ft free",
    ),
    (RowsTooDeep(1, 152.4, 121.92), "needs 1.52 m between rows, 1.22 m free", "needs 5 ft between rows, 4 ft free"),
    (
        OutOfOrder(BEAN, KALE, MAY),
        "bean (tall, 200 cm) on the sunny side of kale (middle, 76 cm) from 1 May 2027",
        "bean (tall, 6 ft 6.7 in) on the sunny side of kale (middle, 2 ft 6 in) from 1 May 2027",
    ),
    (
        Shades(BEAN, KALE, 152.4, MAY),
        "bean (tall, 200 cm) on the sunny side of kale (middle, 76 cm), shadow 152 cm about 1 May 2027",
        "bean (tall, 6 ft 6.7 in) on the sunny side of kale (middle, 2 ft 6 in), shadow 5 ft about 1 May 2027",
    ),
    (
        WrongSide((2, 3), BEAN, KALE, taller=True, south=False, until=MAY, harmless=False),
        "in strips 2-3 it (tall, 200 cm) would stand south of kale (middle, 76 cm) until 1 May 2027",
        "in strips 2-3 it (tall, 6 ft 6.7 in) would stand south of kale (middle, 2 ft 6 in) until 1 May 2027",
    ),
    (
        WrongSide((1,), KALE, BEAN, taller=False, south=True, until=MAY, harmless=True),
        "in strip 1 bean (tall, 200 cm) would stand north of it (middle, 76 cm) until 1 May 2027; its noon shadow "
        "would not reach the middle of the lower one's strip, so it costs next to nothing "
        "('height_order: by shadow' lets it)",
        "in strip 1 bean (tall, 6 ft 6.7 in) would stand north of it (middle, 2 ft 6 in) until 1 May 2027; its noon "
        "shadow would not reach the middle of the lower one's strip, so it costs next to nothing "
        "('height_order: by shadow' lets it)",
    ),
    (
        Reaches(BEAN, KALE, 152.4, 60.96, MAY),
        "bean (tall, 200 cm) on the sunny side of kale (middle, 76 cm), shadow 152 cm over a 61 cm gap "
        "about 1 May 2027",
        "bean (tall, 6 ft 6.7 in) on the sunny side of kale (middle, 2 ft 6 in), shadow 5 ft over a 2 ft gap "
        "about 1 May 2027",
    ),
    (
        WouldReach(BEAN, "kale", "far bed", False, 152.4, 60.96, MAY, harmless=False),
        "its shadow (tall, 200 cm) would reach kale in far bed, 152 cm across a 61 cm gap about 1 May 2027",
        "its shadow (tall, 6 ft 6.7 in) would reach kale in far bed, 5 ft across a 2 ft gap about 1 May 2027",
    ),
    (
        WouldReach(BEAN, "bean", "near bed", True, 152.4, 60.96, MAY, harmless=True),
        "the shadow of bean in near bed (tall, 200 cm) would reach it, 152 cm across a 61 cm gap about 1 May 2027, "
        "but not the middle of its strip, so it costs next to nothing ('height_order: by shadow' lets it)",
        "the shadow of bean in near bed (tall, 6 ft 6.7 in) would reach it, 5 ft across a 2 ft gap about 1 May 2027, "
        "but not the middle of its strip, so it costs next to nothing ('height_order: by shadow' lets it)",
    ),
]


@pytest.mark.parametrize(("facts", "metric", "inches"), SAID)
def test_lengths_are_said_in_the_users_units(facts: Facts, metric: str, inches: str) -> None:
    assert plain(say(facts, Look())) == metric
    assert plain(say(facts, Look(inches=True))) == inches


def test_every_kind_of_facts_with_a_length_is_asked_above() -> None:
    kinds = {
        kind
        for file in Path(rotasolve.rules.__path__[0]).glob("*.py")
        for kind in vars(importlib.import_module(f"rotasolve.rules.{file.stem}")).values()
        if isinstance(kind, type) and issubclass(kind, Facts)
    }
    long = {kind for kind in kinds if any(f.name.endswith("_cm") or f.type == "Stature" for f in fields(kind))}
    assert long == {type(facts) for facts, _, _ in SAID}
