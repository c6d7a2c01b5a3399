"""A job in words: what to do in short, and what to know while doing it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import timedelta
from typing import TYPE_CHECKING

from rotasolve.domain.seasons import say_day
from rotasolve.domain.strips import say_strips
from rotasolve.relations.ground.waits import days_after_digging_in
from rotasolve.relations.work.seeds import material_of, need_of
from rotasolve.views.words.wording import TIED, plain, say_count, say_kg, say_length, say_number, sentence

if TYPE_CHECKING:
    from rotasolve.domain.crop import Crop
    from rotasolve.domain.plan import Planting
    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.work.jobs import Job, JobKind
    from rotasolve.relations.work.seeds import Need
    from rotasolve.views.words.look import Look

_LEAST_GRAMS = 0.1
"""No kitchen scale weighs less."""
_VERBS: dict[JobKind, str] = {
    "lime": "lime the ground for {crop}",
    "spread compost": "spread compost for {crop}",
    "sow indoors": "sow {crop} indoors",
    "pot on": "pot on {crop}",
    "harden off": "begin to harden off {crop}",
    "sow": "sow {crop}",
    "plant": "plant {crop}",
    "set out": "set out {crop}",
    "sow green manure": "sow {crop} as green manure",
    "cover": "cover {crop} against frost",
    "open the cover": "open the cover over {crop} on sunny days",
    "thin": "thin {crop}",
    "earth up": "earth up {crop}",
    "uncover": "uncover {crop}",
    "first harvest": "first harvest of {crop}",
    "last harvest": "last harvest of {crop}",
    "clear": "clear {crop}",
    "dig in": "cut {crop} and dig it in",
    "ground free": "ground free again after {crop}",
}


def job_title(job: Job) -> str:
    """Return what is to be done: ``sow carrot``."""
    return _VERBS[job.kind].format(crop=job.planting.crop)


def job_place(job: Job) -> str:
    """Return where: ``gate bed, strips 1-2``."""
    return f"{job.planting.bed}, {say_strips(job.planting.strips)}"


def job_notes(job: Job, garden: Garden, look: Look) -> tuple[str, ...]:
    """Return what to know for a job, each note a few words."""
    return tuple(_NOTES.get(job.kind, _nothing)(job, garden, look))


def _nothing(job: Job, garden: Garden, look: Look) -> Iterator[str]:
    return iter(())


def _crop(job: Job, garden: Garden) -> tuple[Planting, Crop]:
    return job.planting, garden.crops[job.planting.crop]


def say_need(need: Need) -> str:
    """Say seeds or pieces: ``580 seeds (0.7 g)``, ``40 g of seed``, ``32 tubers``."""
    if need.pieces is None:
        return f"{say_number(need.grams or 0)}{TIED}g of seed"
    weight = f" ({say_grams(need.grams)})" if need.grams is not None and need.grams >= _LEAST_GRAMS else ""
    return say_count(need.pieces, need.material) + weight


def say_grams(grams: float) -> str:
    """Say a weight of seed, never as nothing: ``less than 0.1 g``, ``0.7 g``, ``12 g``."""
    if grams < _LEAST_GRAMS:
        return f"less than 0.1{TIED}g"
    return f"{say_number(grams, 0 if grams >= 10 else 1)}{TIED}g"


def _indoors(job: Job, garden: Garden, look: Look) -> Iterator[str]:
    planting, crop = _crop(job, garden)
    need = need_of(garden, planting)
    if need.material != "seed":
        yield f"for {say_count(planting.plants, need.material)}; or buy them when they are set out"
        return
    yield from _pots(job, garden, look)
    yield say_need(need)
    yield from _depth(crop, look)
    if crop.days_to_emerge is not None:
        note = f", {crop.days_to_emerge.note}" if crop.days_to_emerge.note else ""
        low, high = crop.days_to_emerge.least, crop.days_to_emerge.most
        yield f"seedlings after {say_number(low)} to {say_number(high)} days{note}"


def _pots(job: Job, garden: Garden, look: Look) -> Iterator[str]:
    kind = f" {_first_pots(job, garden, look)}".rstrip()
    yield f"{pot_notes(job, garden, look)[0]}{kind} for {say_count(job.planting.plants, 'plant')}"


def pot_notes(job: Job, garden: Garden, look: Look) -> tuple[str, ...]:
    """Return the pots that seed is sown in indoors, and which; not for how many plants."""
    planting, _ = _crop(job, garden)
    need = need_of(garden, planting)
    if job.kind != "sow indoors" or need.material != "seed":
        return ()
    pots = say_count(need.raised, "pot")
    kind = _first_pots(job, garden, look)
    return (pots, f"pots {kind}") if kind else (pots,)


def _first_pots(job: Job, garden: Garden, look: Look) -> str:
    """Say what the first pots of a crop are like besides; an empty text if nothing is known of them."""
    _, crop = _crop(job, garden)
    return "" if crop.raising is None else f"or cells of {say_length(crop.raising.first_pot.usual, look)}"


def _pot_on(job: Job, garden: Garden, look: Look) -> Iterator[str]:
    planting, crop = _crop(job, garden)
    if crop.raising is not None and crop.raising.second_pot is not None:
        pots = say_count(need_of(garden, planting).raised, "pot")
        yield f"{pots} of {say_length(crop.raising.second_pot.usual, look)}"
        if crop.raising.pot_on_after is not None and crop.raising.pot_on_after.note:
            yield crop.raising.pot_on_after.note


def _harden(job: Job, garden: Garden, look: Look) -> Iterator[str]:
    crop = garden.crops[job.planting.crop]
    yield "out by day, shaded and sheltered at first"
    yield from _hardened(job, garden, look)
    if crop.raising is not None:
        if crop.raising.least_night is not None:
            yield f"not out below {say_number(crop.raising.least_night.usual)}{TIED}degrees{TIED}C"
        if crop.raising.hardening.note:
            yield crop.raising.hardening.note


def _hardened(job: Job, garden: Garden, look: Look) -> Iterator[str]:
    yield f"until {say_day(job.planting.start)}"


def _stand(job: Job, garden: Garden, look: Look) -> Iterator[str]:
    planting, crop = _crop(job, garden)
    rows = f"{say_count(planting.plants, 'plant')} in {say_count(planting.rows, 'row')}"
    apart = say_length(crop.spacing_in_row.usual, look)
    yield f"{rows}, {apart} apart in the row, {say_length(crop.spacing_between_rows.usual, look)} between rows"


def _depth(crop: Crop, look: Look) -> Iterator[str]:
    if crop.sowing_depth is not None:
        yield f"{say_length(crop.sowing_depth.usual, look)} deep"


def _sow(job: Job, garden: Garden, look: Look) -> Iterator[str]:
    yield from _stand(job, garden, look)
    yield say_need(need_of(garden, job.planting))
    yield from _depth(garden.crops[job.planting.crop], look)
    yield from _kept(garden.crops[job.planting.crop])


def _broadcast(job: Job, garden: Garden, look: Look) -> Iterator[str]:
    yield say_need(need_of(garden, job.planting))
    yield from _depth(garden.crops[job.planting.crop], look)


def _set_out(job: Job, garden: Garden, look: Look) -> Iterator[str]:
    planting, crop = _crop(job, garden)
    yield from _stand(job, garden, look)
    if material_of(crop, planting) == "seed":
        yield f"set deep: {crop.set_deep.how}" if crop.set_deep is not None else "as deep as they stood in their pots"
    yield from _kept(crop)


def _kept(crop: Crop) -> Iterator[str]:
    if crop.support is not None:
        yield f"{crop.support.what} for each plant" if crop.support.for_each == "plant" else "trellis along the row"
    if crop.water_at_base is not None:
        yield f"water at the base: {crop.water_at_base.how}"
    if crop.mesh is not None:
        yield f"insect mesh {crop.mesh.how}"


def _cover(job: Job, garden: Garden, look: Look) -> Iterator[str]:
    name = garden.beds[job.planting.bed].cover
    yield f"lay on the {name}" if name in ("fleece", "low tunnel") else f"shut the {name} at night"


def _open(job: Job, garden: Garden, look: Look) -> Iterator[str]:
    cover = garden.catalogue.cover(garden.beds[job.planting.bed].cover)
    if cover.caution:
        yield cover.caution


def _thin(job: Job, garden: Garden, look: Look) -> Iterator[str]:
    planting, crop = _crop(job, garden)
    yield f"to {say_length(crop.spacing_in_row.usual, look)} apart, {say_count(planting.plants, 'plant')} in all"


def _first(job: Job, garden: Garden, look: Look) -> Iterator[str]:
    planting = job.planting
    if planting.last_harvest is not None and planting.last_harvest != planting.first_harvest:
        yield f"until {say_day(planting.last_harvest)}"
    if planting.harvest.typical_kg:
        yield f"about {say_kg(planting.harvest.typical_kg)} in all in a usual year"


def _dig_in(job: Job, garden: Garden, look: Look) -> Iterator[str]:
    planting, crop = _crop(job, garden)
    days = days_after_digging_in(crop, garden.scenario.rules)
    if days > 1:
        yield f"nothing is started here until {say_day(planting.clear + timedelta(days=days))}"


def _lime(job: Job, garden: Garden, look: Look) -> Iterator[str]:
    yield "ground limestone, only as much as a test of the soil asks for: none from pH 6.5 up, against clubroot pH 7"
    yield "four weeks apart from compost and manure; gloves and glasses on, not in wind, never quicklime"


def _compost(job: Job, garden: Garden, look: Look) -> Iterator[str]:
    if job.feeding is None:
        return
    yield f"{say_number(max(1.0, job.feeding.litres), 0)}{TIED}litres"
    yield "well rotted manure does too"
    until, picked = job.feeding.raw_until, job.feeding.picked
    if until is None or picked is None or picked.first_harvest is None:
        return
    why = "" if picked.crop == job.planting.crop else f", for {picked.crop} here"
    yield (f"raw manure by {say_day(until)} only" if until >= job.day else "no raw manure") + why


_NOTES: dict[JobKind, Callable[[Job, Garden, Look], Iterator[str]]] = {
    "lime": _lime,
    "spread compost": _compost,
    "sow indoors": _indoors,
    "pot on": _pot_on,
    "harden off": _harden,
    "sow": _sow,
    "plant": _sow,
    "set out": _set_out,
    "sow green manure": _broadcast,
    "cover": _cover,
    "open the cover": _open,
    "thin": _thin,
    "first harvest": _first,
    "dig in": _dig_in,
}


def _said_pots(job: Job, garden: Garden, look: Look) -> Iterator[str]:
    yield from _pots(job, garden, look) if pot_notes(job, garden, look) else ()


_ON_SHEETS: dict[JobKind, Callable[[Job, Garden, Look], Iterator[str]]] = {
    "sow indoors": _said_pots,
    "harden off": _hardened,
    "sow": _stand,
    "plant": _stand,
    "set out": _stand,
    "thin": _thin,
    "first harvest": _first,
}


def sheet_notes(job: Job, garden: Garden, look: Look) -> tuple[str, ...]:
    """Return those of a job's notes that a bed's sheet says as well: plants, rows, distances, days, yield."""
    return tuple(_ON_SHEETS.get(job.kind, _nothing)(job, garden, look))


def job_sentences(job: Job, garden: Garden, look: Look) -> str:
    """Return all notes of a job as sentences on one line."""
    return plain(" ".join(sentence(note) for note in job_notes(job, garden, look)))
