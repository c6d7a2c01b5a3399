"""British, American, Australian and New Zealand names, plurals and spellings lead to the crop that is meant."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from rotasolve.domain.spelling import spelling_key
from rotasolve.files.crop_names import CropNames

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue

# Published lists of names that differ, read as excerpts: recipes-to-remember.com, "Vegetable names" (aubergine,
# beetroot, coriander, courgette); esldirectory.com, "Different Englishes: Vegetables" (courgette, aubergine, rocket,
# swede, pepper, sweetcorn); The Daily Meal, "Produce in Translation" (brinjal, silverbeet, capsicum, marrow).
PUBLISHED = """
    eggplant = aubergine; brinjal = aubergine; beet = beetroot; cilantro = coriander; zucchini = summer squash
    courgette = summer squash; marrow = summer squash; arugula = rocket; rutabaga = swede; bell pepper = sweet pepper
    capsicum = sweet pepper; corn = sweet corn; sweetcorn = sweet corn; silverbeet = chard
"""
# The others are from memory: common practice of growers and shops in these countries.
REMEMBERED = """
    eggplants = aubergine; Aubergines = aubergine; sweet basil = basil; beets = beetroot; table beets = beetroot
    red beet = beetroot; beetroots = beetroot; broad beans = broad bean; fava beans = broad bean; fava = broad bean
    faba bean = broad bean; Windsor beans = broad bean; calabrese = broccoli; green broccoli = broccoli
    sprouts = Brussels sprouts; brussel sprouts = Brussels sprouts; Brussels sprout = Brussels sprouts
    BRUSSELS SPROUTS = Brussels sprouts; French beans = bush bean; dwarf beans = bush bean; string beans = bush bean
    green beans = bush bean; snap beans = bush bean; haricots verts = bush bean; dwarf French beans = bush bean
    bush beans = bush bean; white cabbage = cabbage; cabbages = cabbage; red cabbage = cabbage; carrots = carrot
    cauliflowers = cauliflower; celery root = celeriac; knob celery = celeriac; Swiss chard = chard
    silver beet = chard; seakale beet = chard; perpetual spinach = chard; rainbow chard = chard; chillies = chilli
    chilies = chilli; chili = chilli; chile pepper = chilli; hot peppers = chilli; chilli peppers = chilli
    napa cabbage = Chinese cabbage; wombok = Chinese cabbage; Chinese leaves = Chinese cabbage
    pole beans = climbing bean; climbing beans = climbing bean; climbing French beans = climbing bean
    collard greens = collards; collard = collards; Chinese parsley = coriander; corn-salad = corn salad
    lamb's lettuce = corn salad; lambs lettuce = corn salad; mâche = corn salad; mache = corn salad
    cucumbers = cucumber; gherkins = cucumber; Lebanese cucumbers = cucumber; ridge cucumber = cucumber
    escarole = endive; frisee = endive; Florence fennel = bulb fennel; fennel = bulb fennel; finocchio = bulb fennel
    cos = head lettuce; romaine = head lettuce; iceberg = head lettuce; little gem = head lettuce
    butterhead = head lettuce; cos lettuces = head lettuce; salad leaves = leaf lettuce
    loose leaf lettuce = leaf lettuce; cut and come again lettuce = leaf lettuce; borecole = kale; curly kale = kale
    cavolo nero = kale; Tuscan kale = kale; kohl rabi = kohlrabi; kohl-rabi = kohlrabi; kohlrabies = kohlrabi
    leeks = leek; melons = melon; cantaloupe = melon; muskmelons = melon; rockmelon = melon
    oriental mustard = mustard greens; lady's fingers = okra; ladies fingers = okra; onions = onion
    brown onions = onion; bok choy = pak choi; pak choy = pak choi; pac choi = pak choi; buk choy = pak choi
    bok-choy = pak choi; parsnips = parsnip; peas = pea; garden peas = pea; English peas = pea; petits pois = pea
    shelling peas = pea; potatoes = potato; spuds = potato; radishes = radish; red chicory = radicchio
    salad rocket = rocket; runner beans = runner bean; scarlet runners = runner bean; runners = runner bean
    shallots = shallot; eschalots = shallot; French shallot = shallot; English spinach = spinach
    courgettes = summer squash; zucchinis = summer squash; vegetable marrow = summer squash
    patty pans = summer squash; pattypan = summer squash; button squash = summer squash; crookneck = summer squash
    swedes = swede; rutabagas = swede; neeps = swede; Swedish turnip = swede; yellow turnips = swede
    corn on the cob = sweet corn; maize = sweet corn; sweet-corn = sweet corn; peppers = sweet pepper
    bell peppers = sweet pepper; capsicums = sweet pepper; kumara = sweet potato; sweet potatoes = sweet potato
    tomatoes = tomato; turnips = turnip; butternut = winter squash; acorn squashes = winter squash
    new potatoes = first early potato; first earlies = first early potato; second earlies = second early potato
    main crop potatoes = maincrop potato; snow peas = mangetout; mange-tout = mangetout; sugar peas = mangetout
    PSB = purple sprouting broccoli; sprouting broccoli = purple sprouting broccoli; savoys = savoy cabbage
    spring greens = spring cabbage; scallions = spring onion; green onions = spring onion; salad onions = spring onion
    Japanese onions = autumn-planted onion; mooli = winter radish; daikon = winter radish
    butternut squash = winter squash; pumpkins = pumpkin; tick beans = field bean; hairy vetch = winter vetch
"""
PAIRS = [
    (said.strip(), name.strip())
    for line in (PUBLISHED + REMEMBERED).splitlines()
    for said, name in (pair.split("=") for pair in line.split(";") if pair.strip())
]


@pytest.fixture(scope="module")
def names(catalogue: Catalogue) -> CropNames:
    return CropNames(catalogue.crops)


def test_more_than_100_names_are_asked_and_answered(names: CropNames, catalogue: Catalogue) -> None:
    own = {crop.name.casefold() for crop in catalogue.crops}
    assert len({said for said, _ in PAIRS if said.casefold() not in own}) > 100
    assert {said: names.find(said) for said, _ in PAIRS} == dict(PAIRS)


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("squash", {"summer squash", "winter squash"}),
        ("Lettuces", {"leaf lettuce", "head lettuce"}),
        ("beans", {"bush bean", "climbing bean", "runner bean", "broad bean"}),
        ("mustard", {"green mustard", "mustard greens"}),
    ],
)
def test_a_name_that_means_several_crops_is_asked_about(names: CropNames, word: str, meant: set[str]) -> None:
    assert names.find(word) is None
    assert set(names.meant(word)) == meant
    what, mend = names.trouble(word)
    assert what == f"the crop '{word}' may mean several crops"
    assert all(f"'{name}'" in mend for name in meant)


def test_no_other_name_means_several_crops(names: CropNames, catalogue: Catalogue) -> None:
    several = {word for crop in catalogue.crops for word in crop.also if len(names.meant(word)) > 1}
    assert several == {"squash", "lettuce", "bean", "mustard"}


def test_every_name_leads_to_its_crop(names: CropNames, catalogue: Catalogue) -> None:
    for crop in catalogue.crops:
        assert names.find(crop.name) == crop.name
        assert all(crop.name in names.meant(word) for word in crop.also)


@pytest.mark.parametrize(
    "spellings",
    [
        ("sweet corn", "Sweetcorn", "SWEET-CORN", " sweet  corns "),
        ("potato", "potatoes", "Potatoes"),
        ("leaf", "leaves"),
        ("chilli", "chillies", "chillis", "chilly"),
        ("frisée", "frisee", "frise\u0301e"),
        ("lady's finger", "ladys fingers", "lady\u2019s fingers"),
    ],
)
def test_spellings_of_one_name(spellings: tuple[str, ...]) -> None:
    assert len({spelling_key(word) for word in spellings}) == 1


@pytest.mark.parametrize(
    ("one", "other"),
    [("asparagus", "asparagu"), ("cress", "cres"), ("cos", "co"), ("pea", "pear"), ("chives", "chief"), ("!", "?")],
)
def test_different_names_stay_different(one: str, other: str) -> None:
    assert spelling_key(one) != spelling_key(other)
