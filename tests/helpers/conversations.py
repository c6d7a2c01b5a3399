"""What people type into ``begin``, wrong answers among it, what the screen shows, and what the file then holds."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

from rotasolve.domain.scenario import Scenario

SITE = ("Hill plot", "52.3", "5 May", "15 October", "2027 to 2029", "2")
"""Answers to the questions about the garden as a whole."""
BED = ("6 x 1.2 m, n-s, open; nothing", "")
"""One bed, and no more of them."""
END = ("kale 3 kg October-December", "")
"""Something to eat, and nothing else."""


class Talk(NamedTuple):
    """What is typed, what the screen shows at some time, and what the file then holds."""

    said: tuple[str, ...]
    shown: tuple[str, ...] = ()
    holds: Callable[[Scenario], Any] = lambda scenario: None
    value: Any = None


TALKS = {
    "only Enter where there is a proposal": Talk(
        ("", "52", "5 May", "15 October", "", "", "4 x 1.2 m", "", "", "", "", "", "", ""),
        ("[My garden]", "bed 1: 4 m x 1.2 m = 4.8 m2", "Written: garden.yaml (1 bed, 6 crops)"),
        lambda s: (s.title, s.years, s.household.people, s.beds[0].runs, len(s.household.targets)),
        ("My garden", 3, 2, "north-south", 6),
    ),
    "a latitude that is none": Talk(
        ("Hill", "north", "52,3 N", *SITE[2:], *BED, *END),
        ("'north' is not a latitude",),
        lambda s: s.site.latitude,
        52.3,
    ),
    "a garden in the south": Talk(
        ("Hill", "41 S", "5 May", "5 October", "5 April", "2027/28", "2", "2", *BED, *END),
        ("5 May is not in spring in the south",),
        lambda s: (s.site.latitude, s.site.last_frost.half, s.years),  # type: ignore[union-attr]
        (-41.0, (10, 5), 2),
    ),
    "a day that is none, and safe dates": Talk(
        (
            "Hill",
            "52",
            "31 Octember",
            "5 May, safe 1 May",
            "5 May, safe 20 May",
            "15 October; 1 October",
            *SITE[4:],
            *BED,
            *END,
        ),
        ("'31 Octember' is not a day", "the safe date lies after the average one"),
        lambda s: (s.site.last_frost.safe, s.site.first_frost.safe),  # type: ignore[union-attr]
        ((5, 20), (10, 1)),
    ),
    "help for every question": Talk(
        (
            "?",
            "Hill",
            "?",
            "52",
            "?",
            "5 May",
            "?",
            "15 October",
            "?",
            "2027, 1 year",
            "?",
            "3",
            "?",
            "6x1.2",
            "?",
            "",
            "?",
            "",
            "?",
            "",
            "?",
            "",
            "?",
            "kale 3 kg",
            "?",
            "",
            "?",
            "",
        ),
        ("Any map on a screen", "weather service", "20 by 4 ft", "allow phacelia", "'stop' keeps your answers"),
        lambda s: (s.years, s.household.people),
        (1, 3),
    ),
    "frost dates worked out from the months": Talk(
        (
            "Hill",
            "53.4",
            "climate",
            "-1 -0.8 0.4",
            "-1 -0.8 0.4 2.9 6.3 9.3 11.2 10.9 8.4 5.0 1.6 -0.4",
            "5.8, 6.6, 9.4, 12.8, 16.5, 19.6, 21.6, 21.2, 18, 13.4, 8.8, 6.2",
            "",
            *SITE[4:],
            *BED,
            *END,
        ),
        ("these are 3 numbers; write 12", "Worked out: the last frost about"),
        lambda s: (s.site.last_frost, s.site.climate.mean_minima_c[6]),  # type: ignore[union-attr]
        (None, 11.2),
    ),
    "nights that are warmer than days": Talk(
        (
            "Hill",
            "53.4",
            "climate",
            "1 1 2 4 7 10 12 11 9 6 3 1",
            "0 0 1 3 6 9 11 10 8 5 2 0",
            "back",
            "-1 -1 0 3 6 9 11 11 8 5 2 0",
            "6 7 9 13 16 20 22 21 18 13 9 6",
            "",
            *SITE[4:],
            *BED,
            *END,
        ),
        ("the mean minimum of January",),
        lambda s: s.site.climate.mean_minima_c[0],  # type: ignore[union-attr]
        -1.0,
    ),
    "too many years": Talk(
        (*SITE[:4], "2027 to 2099", "soon", "2027", "0", "2", "2", *BED, *END),
        ("the number of years must be a whole number from 1 to 10, not '73'", "'soon' is not a year"),
        lambda s: (s.first_year, s.years),
        (2027, 2),
    ),
    "beds one by one, each in its own way": Talk(
        (
            *SITE,
            "6x1.2",
            "tomatoes",
            "e-w",
            "",
            "2026 potato, kale; 2025 onion",
            "gate bed: 20 by 4 ft, low tunnel",
            "n-s",
            "nothing",
            "4 ft 6 in by 12 ft",
            "",
            "cold frame",
            "",
            "",
            *END,
        ),
        ("'tomatoes' is no direction", "gate bed: 20 ft x 4 ft = 7.4 m2, low tunnel"),
        lambda s: [(bed.name, round(bed.length), bed.runs, bed.cover) for bed in s.beds],
        [
            ("bed 1", 600, "east-west", "open ground"),
            ("gate bed", 610, "north-south", "low tunnel"),
            ("bed 3", 366, "north-south", "cold frame"),
        ],
    ),
    "several like beds at once": Talk(
        (*SITE, "3 beds of 4 x 1.2 m", "", "", "2026 pea", "", "2026 kale, leek", "", *END),
        ("bed 1, bed 2, bed 3: 4 m x 1.2 m = 4.8 m2", "What grew in bed 3"),
        lambda s: [(past.bed, past.crop, past.year) for past in s.history],
        [("bed 1", "pea", 2026), ("bed 3", "kale", 2026), ("bed 3", "leek", 2026)],
    ),
    "sizes that are none": Talk(
        (*SITE, "", "6", "20 x 4", "6 m x 1.2 kg", "6 x 1.2 m, tunel", "6 x 1.2 m, tunnel, n-s; nothing", "", *END),
        (
            "This one needs an answer",
            "'6' is not understood",
            "'20 x 4' has no unit",
            "'kg' is not understood",
            "did you mean 'tunnel'?",
        ),
        lambda s: (s.beds[0].cover, s.beds[0].length),
        ("tunnel", 600),
    ),
    "one name for two beds": Talk(
        (
            *SITE,
            "gate: 4 x 1 m, n-s, open; nothing",
            "Gate: 3 x 1 m, n-s, open",
            "corner: 3 x 1 m, n-s, open; 2025 pea",
            "",
            *END,
        ),
        ("a bed is called 'Gate' already",),
        lambda s: [bed.name for bed in s.beds],
        ["gate", "corner"],
    ),
    "what grew there, half of it unknown": Talk(
        (*SITE, "6 x 1.2 m, n-s, open", "2026 potatto, kale; 2031 leek", "2026 potato", "", *END),
        (
            "did you mean 'potato'?",
            "2031 is no year from 2006 to 2026",
            "Enter leaves them out: 2026 potatto; 2031 leek",
        ),
        lambda s: [(past.crop, past.year) for past in s.history],
        [("kale", 2026), ("potato", 2026)],
    ),
    "wishes, only the wrong ones again": Talk(
        (
            *SITE,
            *BED,
            "potato 4 kg, carott, leek 30 plants, brocoli 2 kg, kale a little",
            "carrot, broccoli 2 kg",
            "",
            "",
        ),
        ("did you mean 'carrot'?", "did you mean 'broccoli'?", "Write only these", "A year", "Together about"),
        lambda s: ([target.crop for target in s.household.targets], [eats.crop for eats in s.household.eats]),
        (["potato", "leek", "broccoli"], ["kale", "carrot"]),
    ),
    "plurals, and names that mean two crops": Talk(
        (*SITE, *BED, "potatoes 5 kg, broad beans 3 kg, courgettes 4 plants, lettuce", "leaf lettuce", "", ""),
        ("may mean several crops", "'leaf lettuce'", "courgettes "),
        lambda s: ([target.crop for target in s.household.targets], [eats.crop for eats in s.household.eats]),
        (["potato", "broad bean", "summer squash"], ["leaf lettuce"]),
    ),
    "wrong wishes left out": Talk(
        (*SITE, *BED, "potato 20 kg, xyzzy", "", "", ""),
        ("the crop 'xyzzy' is not known",),
        lambda s: [target.crop for target in s.household.targets],
        ["potato"],
    ),
    "more than the ground bears": Talk(
        (*SITE, *BED, "potato 200 kg", "back", "potato 15 kg", "", ""),
        ("The wishes need about", "7.2 m2 are there", "potato 200"),
        lambda s: s.household.targets[0].kg,
        15,
    ),
    "fresh months": Talk(
        (
            *SITE,
            *BED,
            "kale 3 kg, leaf lettuce 2 kg, leek 2 kg",
            "leaf lettuce May-Octember, kale October to March, pea June-July",
            "leaf lettuce May-Oct",
            "",
        ),
        ("names no months", "pea is not among your wishes"),
        lambda s: [target.fresh_months for target in s.household.targets],
        [(10, 11, 12, 1, 2, 3), (5, 6, 7, 8, 9, 10), ()],
    ),
    "anything else": Talk(
        (
            *SITE,
            "gate bed: 6 x 1.2 m, n-s, open; nothing",
            "",
            END[0],
            "disese gate bed: clubroot",
            "disease gate bed: rot",
            "disease gate bed: clubroot",
            "must have 10 leek in gate bed",
            "allow phacelia",
            "stands gate bed: garlic since 15 October 2026 until 20 July 2027",
            "",
        ),
        ("did you mean 'disease'?", "the disease 'rot' is not known"),
        lambda s: (s.beds[0].diseases, s.household.must_have[0].plants, s.also_allowed, s.pinned[0].crop),
        (("clubroot",), 10, ("phacelia",), "garlic"),
    ),
    "back to the beginning and on again": Talk(
        (
            "Hil",
            "back",
            "back",
            "Hill",
            "52",
            "back",
            "51",
            *SITE[2:],
            "6x1.2",
            "back",
            "5 x 1 m, n-s, open; nothing",
            "",
            *END,
        ),
        ("This is the first question", "[Hil]"),
        lambda s: (s.title, s.site.latitude, s.beds[0].length),
        ("Hill", 51.0, 500),
    ),
}
