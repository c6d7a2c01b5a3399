"""A plan file beside its scenario: beds, crops, ways, strips and days that cannot be, each with its place."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_day, say_year
from rotasolve.domain.strips import strips_in_bed
from rotasolve.errors import InputFault
from rotasolve.files.crop_names import CropNames
from rotasolve.files.document import quoted
from rotasolve.files.faults import in_file_order
from rotasolve.files.wording import did_you_mean

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.fault import Fault
    from rotasolve.domain.plan import Planting
    from rotasolve.domain.scenario import Scenario
    from rotasolve.files.plans import PlanFile

_ALL_BEDS = 12
_PAST = (
    "left out: {} of its plantings, begun before the plan of {} and not pinned; what they leave behind counts only as "
    "far as the scenario's history tells it ('rotasolve next' writes history and pins)"
)


def checked_plan(file: PlanFile, scenario: Scenario, catalogue: Catalogue, *, any_years: bool = False) -> PlanFile:
    """Return the plan file with its crops as the catalogue names them.

    ``any_years`` lets it be a plan of other years: one that nobody edited, but whose scenario was changed since.

    Raises
    ------
    InputFault
        With every bed, crop, way, strip, day and year of the file that the scenario has no room for.
    """
    check = _Check(file, scenario, catalogue, any_years)
    faults = [*check.years(), *(fault for n in range(len(file.plan.plantings)) for fault in check.planting(n))]
    if faults:
        raise InputFault(in_file_order(faults))
    return check.renamed()


def sensible_part(file: PlanFile, scenario: Scenario, catalogue: Catalogue) -> tuple[PlanFile, tuple[str, ...]]:
    """Return what of a plan file makes sense in another scenario, and what does not, in words.

    The plan returned has the years of the scenario.
    """
    check, stay, told, past = _Check(file, scenario, catalogue), [], list[str](), 0
    for number, planting in enumerate(file.plan.plantings):
        if planting.start < scenario.begins and not check.pinned(planting):
            past += 1
            continue
        faults = list(check.planting(number))
        told += [f"left out, {fault.file}:{fault.line}:{fault.column}: {fault.what}" for fault in faults[:1]]
        if not faults:
            stay.append(number)
    if past:
        told.insert(0, _PAST.format(past, scenario.begins.year))
    whole = check.renamed()
    plan = whole.plan.model_copy(
        update={
            "plantings": tuple(whole.plan.plantings[number] for number in stay),
            "first_year": scenario.first_year,
            "years": scenario.years,
        }
    )
    left_out = {new: whole.left_out[old] for new, old in enumerate(stay) if old in whole.left_out}
    return replace(whole, plan=plan, left_out=left_out), tuple(told)


@dataclass(frozen=True)
class _Check:
    file: PlanFile
    scenario: Scenario
    catalogue: Catalogue
    any_years: bool = False

    def years(self) -> Iterator[Fault]:
        """Yield that the plan covers other years than the scenario."""
        plan, scenario = self.file.plan, self.scenario
        if not self.any_years and (plan.first_year, plan.years) != (scenario.first_year, scenario.years):
            what = (
                f"the plan covers {plan.years} years from {plan.first_year}, the scenario "
                f"{scenario.years} from {scenario.first_year}; was it made for another one?"
            )
            key = "years" if plan.first_year == scenario.first_year else "first_year"
            yield self.file.document.value_fault((key,), what, "'plan --from' takes over what still makes sense")

    def planting(self, number: int) -> Iterator[Fault]:
        """Yield what is wrong with one planting."""
        planting, left_out = self.file.plan.plantings[number], self.file.left_out.get(number, frozenset())
        yield from self._bed(number, planting)
        yield from self._crop(number, planting, "way" in left_out)
        south, years = self.scenario.site.south, self.scenario.planned_years
        told = planting.start < self.scenario.begins and self.pinned(planting)
        if not self.any_years and not told and planting.begins_in(south) not in years:
            span = f"{say_year(years[0], south)} to {say_year(years[-1], south)}"
            what = f"{say_day(planting.start)} lies outside the planned years, {span}"
            mend = "write a day within them; what stood before belongs into the scenario's history"
            yield self._fault(number, "start", what, mend)
        if planting.clear < planting.start:
            what = f"cleared on {say_day(planting.clear)}, before it is started on {say_day(planting.start)}"
            yield self._fault(number, "clear", what, "write a later day, or take 'clear' out to have it worked out")
        if planting in self.file.plan.plantings[:number]:
            first = self.file.document.place_of_value(("plantings", self.file.plan.plantings.index(planting))).line
            yield self._fault(number, "", f"the same planting stands in line {first} already", "remove one of them")

    def pinned(self, planting: Planting) -> bool:
        """Return whether the scenario pins the planting."""
        place = (planting.bed, planting.crop, planting.start)
        return any((pin.bed, pin.crop, pin.start) == place for pin in self.scenario.pinned)

    def renamed(self) -> PlanFile:
        """Return the file with the catalogue's own names of its crops."""
        names = CropNames(self.catalogue.crops)
        plantings = []
        for planting in self.file.plan.plantings:
            name = names.find(planting.crop) or planting.crop
            plantings.append(planting if name == planting.crop else planting.model_copy(update={"crop": name}))
        return replace(self.file, plan=self.file.plan.model_copy(update={"plantings": tuple(plantings)}))

    def _fault(self, number: int, key: str, what: str, mend: str = "") -> Fault:
        path = ("plantings", number, key) if key else ("plantings", number)
        return self.file.document.value_fault(path, what, mend)

    def _bed(self, number: int, planting: Planting) -> Iterator[Fault]:
        beds = {bed.name: bed for bed in self.scenario.beds}
        bed = beds.get(planting.bed)
        if bed is None:
            names = list(beds)
            all_beds = f"the beds are: {', '.join(names[:_ALL_BEDS])}{', ...' if len(names) > _ALL_BEDS else ''}"
            hint = did_you_mean(planting.bed, names) or all_beds
            yield self._fault(number, "bed", f"there is no bed {quoted(planting.bed)} in this scenario", hint)
            return
        most = strips_in_bed(bed)
        for nth, strip in enumerate(planting.strips):
            what = ""
            if not 1 <= strip <= most:
                what = f"bed {quoted(bed.name)} has strips 1 to {most}, not {strip}"
            elif strip in planting.strips[:nth]:
                what = f"strip {strip} is named twice"
            if what:
                yield self.file.document.value_fault(
                    ("plantings", number, "strips", nth), what, "name strips of the bed, each once"
                )

    def _crop(self, number: int, planting: Planting, any_way: bool) -> Iterator[Fault]:
        names = CropNames(self.catalogue.crops)
        name = names.find(planting.crop)
        if name is None:
            yield self._fault(number, "crop", *names.trouble(planting.crop))
            return
        ways = sorted({start.way for crop in self.catalogue.crops if crop.name == name for start in crop.starts})
        if planting.way not in ways and not any_way:
            what = f"{name} is never {planting.way}"
            yield self._fault(number, "way", what, f"write {' or '.join(quoted(way) for way in ways)}")
