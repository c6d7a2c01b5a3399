"""A crop: what it is, how much room it takes, how high it grows, when it is started and what it yields."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import ConfigDict, Field, model_validator
from pydantic.json_schema import SkipJsonSchema

from rotasolve.domain.cover import Cover
from rotasolve.domain.figure import Figure, Sources, Unit
from rotasolve.domain.growth import DegreeDays, WaterUse
from rotasolve.domain.raising import Advice, Raising, Support
from rotasolve.domain.record import Record
from rotasolve.domain.reference import ReferenceClimate

Name = Annotated[str, Field(min_length=1, max_length=60, pattern=r"^[^\n\r\t]+$")]
"""A name as growers write it, 1 to 60 characters on one line."""

Way = Literal["sown in place", "set out"]
"""How a crop is started in its bed: seed or clove in place, or a raised plant set out."""

Hardiness = Literal["hardy", "half-hardy", "tender", "very tender"]
"""hardy survives winter frost; half-hardy stands light frost; tender dies at the first frost;
very tender also wants warm nights."""

Material = Literal["seed", "set", "clove", "tuber", "slip"]
"""What is put into the ground, or into a pot: seed, or a piece of a plant that is counted one by one."""

_START_UNITS: tuple[Unit, ...] = (
    "weeks after last frost",
    "weeks before first frost",
    "weeks after first frost",
    "weeks after longest day",
)


class Hardy(Record):
    """A hardiness class with the source that states it."""

    level: Hardiness
    source: Sources


class Start(Record):
    """One way of starting the crop in its bed, and the window for it.

    ``earliest`` and ``latest`` are counted from a frost date or, where shortening days begin a season, from the longest
    day of the year (negative weeks after either lie before it).
    ``days_to_harvest`` counts from this start to the first picking; ``weeks_indoors`` only for plants set out.
    ``material`` is what is sown or planted.
    """

    way: Way
    material: Material = "seed"
    earliest: Figure
    latest: Figure
    days_to_harvest: Figure
    weeks_indoors: Figure | None = None

    @model_validator(mode="after")
    def _units(self) -> Self:
        for end in (self.earliest, self.latest):
            if end.unit not in _START_UNITS:
                raise ValueError(f"a start window is counted in {', '.join(_START_UNITS)}, not in {end.unit}")
        if self.days_to_harvest.unit != "days":
            raise ValueError("days_to_harvest is counted in days")
        if self.days_to_harvest.least < 1:
            raise ValueError("days_to_harvest must be at least 1 day")
        return self


FIELD_UNITS: dict[str, Unit] = {
    "height": "cm",
    "spacing_in_row": "cm",
    "spacing_between_rows": "cm",
    "sowing_depth": "cm",
    "least_rows": "rows",
    "harvest_weeks": "weeks",
    "standing_weeks": "weeks",
    "stands_to": "degC",
    "winter_loss": "%",
    "spring_share": "%",
    "yield_per_plant": "kg per plant",
    "yield_per_row": "kg per m of row",
    "yield_per_area": "kg per m2",
    "fresh_per_person": "kg per person",
    "stored_per_person": "kg per person",
    "storage_weeks": "weeks",
    "kg_per_meal": "kg per meal",
    "kg_per_litre_of_jars": "kg per litre",
    "jar_weeks": "weeks",
    "sun_hours_least": "hours per day",
    "least_night": "degC",
    "row_distance_for_yield": "cm",
    "germination_least": "degC",
    "germination_most": "degC",
    "sowing_soil": "degC",
    "bolting_below": "degC",
    "growth_least": "degC",
    "growth_best": "degC",
    "growth_most": "degC",
    "days_known_at": "degC",
    "germination": "%",
    "days_to_emerge": "days",
    "seeds_per_gram": "seeds per g",
    "seeds_per_place": "seeds per plant",
    "seed_rate": "g per m2",
    "thin_after": "weeks",
    "earth_up_after": "weeks",
    "wait_after": "weeks",
}
_TEMPERATURES = frozenset(field for field, unit in FIELD_UNITS.items() if unit == "degC")


class Stays(Record):
    """How a crop that stays for years yields: per cent of a full crop in its first year, its second and so on.

    The last figure holds for all later years; ``life`` is how many years it is usually kept before it is renewed.
    """

    percent_by_year: Annotated[tuple[Annotated[int, Field(ge=0, le=100)], ...], Field(min_length=1, max_length=30)]
    life: Figure
    source: Sources
    note: str = ""

    @model_validator(mode="after")
    def _in_full_at_last(self) -> Self:
        if self.life.unit != "years":
            raise ValueError("life is counted in years")
        if self.percent_by_year[-1] != 100:
            raise ValueError("percent_by_year must end with 100, the full crop of later years")
        return self


def _kinds_need_less(schema: dict[str, Any]) -> None:
    """Ask for every needed field in the schema of a crop, unless it is a kind of one that has them."""
    whole = schema.pop("required")
    schema["anyOf"] = [{"required": whole}, {"required": ["name", "kind_of"]}]


class Crop(Record):
    """A crop that can be planned. Every figure carries unit and source.

    Exactly one of ``yield_per_plant``, ``yield_per_row`` and ``yield_per_area`` is the basis of harvest
    estimates; a yield per metre of row is spread over the row distance it was published for
    (``row_distance_for_yield``), because yield follows area, not plant count, in a closed stand
    (a published turnip density trial). A green manure has no yield. ``picking: once`` marks crops of which each
    plant is lifted or cut once: clearing them early loses fresh weeks but no yield. Temperatures are used where the
    site gives a climate: of the soil for germination and sowing, of the night for setting out, of the day's mean for
    bolting and growth: none below ``growth_least``, most within ``growth_best``, none above ``growth_most``.

    ``standing_weeks`` is how long a crop of ``picking: once`` may stay in the ground after its first ripe day and be
    picked as wanted; ``stands_to`` the night in degrees C in which standing plants are lost; ``winter_loss`` the share
    lost in each month from December to March. ``days_known_at`` is the mean temperature at which the published days to
    harvest were counted. ``yield_known_at`` names the reference climate, ``yield_known_under`` the cover for which the
    yield was published; ``spring_share`` is what a planting in spring yields of one in autumn; ``fruit`` marks crops of
    which fruit or pods are picked again and again, whose yield comes with the days of picking. ``reference`` and
    ``reference_cover`` are what the names stand for: the catalogue fills them in.

    A kind (early carrots) is a crop of its own, ``kind_of`` another one: what is said of that one as a host, before or
    after others and beside them is said of its kinds too.

    What ``stays`` for years is never chosen by a plan: the grower tells where it stands (``Scenario.standing``). The
    days of its one start are counted from the beginning of the garden year.

    Seeds are counted from ``germination`` (of 100 seeds sown), ``seeds_per_place`` (sown for each plant that is left)
    and ``seeds_per_gram``; a crop sown broadcast has a ``seed_rate``. ``thin_after`` and ``earth_up_after`` count weeks
    from the start in the bed. ``wait_after`` is how long ground waits after a green manure was dug in. ``set_deep``,
    ``water_at_base`` and ``mesh`` say how, where it is wise; ``clear_of_soil`` why the part that is eaten does not
    touch the soil (without it, it counts as touching). ``again_in_season`` marks a quick crop whose successive sowings
    on the same ground in one season are usual, ``no_fresh_manure`` a root that wants ground fed for an earlier crop.
    """

    model_config = ConfigDict(json_schema_extra=_kinds_need_less)

    name: Name
    also: tuple[Name, ...] = ()
    kind_of: Name | None = None
    species: Name
    family: Name
    rotation_group: Name = "others"
    feeder: Literal["heavy", "medium", "light", "fixes nitrogen", "none"] = "medium"
    green_manure: bool = False
    picking: Literal["once", "repeated"] = "repeated"
    fruit: bool = False
    counts_for_rest: bool = True
    rest_note: str = ""
    hardiness: Hardy
    height: Figure
    spacing_in_row: Figure
    spacing_between_rows: Figure
    least_rows: Figure | None = None
    sowing_depth: Figure | None = None
    starts: Annotated[tuple[Start, ...], Field(min_length=1)]
    harvest_weeks: Figure
    standing_weeks: Figure | None = None
    stands_to: Figure | None = None
    winter_loss: Figure | None = None
    yield_per_plant: Figure | None = None
    yield_per_row: Figure | None = None
    row_distance_for_yield: Figure | None = None
    yield_per_area: Figure | None = None
    yield_known_at: Name | None = None
    yield_known_under: Name | None = None
    spring_share: Figure | None = None
    fresh_per_person: Figure | None = None
    stored_per_person: Figure | None = None
    storage_weeks: Figure | None = None
    kg_per_meal: Figure | None = None
    kg_per_litre_of_jars: Figure | None = None
    jar_weeks: Figure | None = None
    sun_hours_least: Figure | None = None
    least_night: Figure | None = None
    germination_least: Figure | None = None
    germination_most: Figure | None = None
    sowing_soil: Figure | None = None
    bolting_below: Figure | None = None
    growth_least: Figure | None = None
    growth_best: Figure | None = None
    growth_most: Figure | None = None
    degree_days: DegreeDays | None = None
    days_known_at: Figure | None = None
    reference: SkipJsonSchema[ReferenceClimate | None] = Field(default=None, exclude=True)
    reference_cover: SkipJsonSchema[Cover | None] = Field(default=None, exclude=True)
    water: WaterUse | None = None
    germination: Figure | None = None
    days_to_emerge: Figure | None = None
    seeds_per_gram: Figure | None = None
    seeds_per_place: Figure | None = None
    seed_rate: Figure | None = None
    thin_after: Figure | None = None
    earth_up_after: Figure | None = None
    wait_after: Figure | None = None
    raising: Raising | None = None
    set_deep: Advice | None = None
    water_at_base: Advice | None = None
    support: Support | None = None
    mesh: Advice | None = None
    clear_of_soil: Advice | None = None
    again_in_season: Advice | None = None
    no_fresh_manure: Advice | None = None
    stays: Stays | None = None
    cautions: tuple[str, ...] = ()

    def percent_in_year(self, age: int) -> int:
        """Return the per cent of a full crop that it yields in a year, counted from 1 for that of planting."""
        shares = (100,) if self.stays is None else self.stays.percent_by_year
        return shares[min(age, len(shares)) - 1]

    def name_in_year(self, age: int) -> str:
        """Return its name in a year: ``asparagus in year 2``, its own once it yields in full."""
        return self.name if self.percent_in_year(age) == 100 else f"{self.name} in year {age}"

    @model_validator(mode="after")
    def _fits(self) -> Self:
        for field, unit in FIELD_UNITS.items():
            figure: Figure | None = getattr(self, field)
            if figure is None:
                continue
            if figure.unit != unit:
                raise ValueError(f"{field} is counted in {unit}, not in {figure.unit}")
            if field not in _TEMPERATURES and figure.least < 0:
                raise ValueError(f"{field} cannot be negative")
        for field in ("germination", "seeds_per_gram", "seeds_per_place"):
            seeds: Figure | None = getattr(self, field)
            if seeds is not None and seeds.least <= 0:
                raise ValueError(f"{field} must be more than 0")
        for field in ("germination", "winter_loss", "spring_share"):
            part: Figure | None = getattr(self, field)
            if part is not None and part.most > 100:
                raise ValueError(f"{field} cannot be more than 100 %")
        if self.standing_weeks is not None and self.picking != "once":
            raise ValueError("standing_weeks is for crops with picking: once; others are picked for harvest_weeks")
        if self.wait_after is not None and not self.green_manure:
            raise ValueError("wait_after is for green manures: ground waits only after these are dug in")
        for field in ("height", "spacing_in_row", "spacing_between_rows"):
            if getattr(self, field).usual <= 0:
                raise ValueError(f"{field} must be more than 0 cm")
        self._check_warmth()
        for field in ("kg_per_meal", "kg_per_litre_of_jars"):
            each: Figure | None = getattr(self, field)
            if each is not None and each.usual <= 0:
                raise ValueError(f"{field} must be more than 0 kg")
        bases = [b for b in (self.yield_per_plant, self.yield_per_row, self.yield_per_area) if b is not None]
        if self.green_manure and bases:
            raise ValueError("a green manure carries no yield")
        if not self.green_manure and len(bases) != 1:
            raise ValueError("give exactly one of yield_per_plant, yield_per_row and yield_per_area")
        if self.yield_per_row is not None and self.row_distance_for_yield is None:
            raise ValueError("yield_per_row needs row_distance_for_yield, the row distance it was published for")
        return self

    def _check_warmth(self) -> None:
        cold, hot, best = self.germination_least, self.germination_most, self.growth_best
        if cold is not None and hot is not None and cold.usual >= hot.usual:
            raise ValueError("germination_least must lie below germination_most")
        warmths = [w.usual for w in (self.growth_least, best, self.growth_most) if w is not None]
        if warmths != sorted(set(warmths)):
            raise ValueError("growth_least must lie below growth_best, and growth_best below growth_most")
        if self.degree_days is not None and best is not None and self.degree_days.base.usual >= best.usual:
            raise ValueError("the base of degree_days must lie below growth_best, or no day would count")
