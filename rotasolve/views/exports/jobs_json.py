"""The calendar and the shopping list for programs, with the schema version of all answers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.domain.seasons import first_day, last_day
from rotasolve.relations.work.seeds import need_of
from rotasolve.views.exports.as_json import SCHEMA_VERSION
from rotasolve.views.exports.calendar_files import uid_of
from rotasolve.views.words.job_words import job_notes, job_title
from rotasolve.views.words.look import Look
from rotasolve.views.words.weeks import week_of
from rotasolve.views.words.wording import plain

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from rotasolve.relations.ground.garden import Garden
    from rotasolve.relations.work.done import Progress
    from rotasolve.relations.work.jobs import Job
    from rotasolve.relations.work.seedlings import SillRoom
    from rotasolve.relations.work.shopping import Purchase
    from rotasolve.views.exports.as_json import Answer


def calendar_answer(
    garden: Garden, jobs: Sequence[Job], *, scenario_matches: bool, progress: Progress | None = None
) -> Answer:
    """Return the jobs, by day; with what a diary tells also whether they are done, and those overdue."""
    answer: Answer = {
        "schema_version": SCHEMA_VERSION,
        "scenario_matches": scenario_matches,
        "jobs": [_job(job, garden) for job in jobs],
    }
    if progress is not None:
        for job, fields in zip(jobs, answer["jobs"], strict=True):
            tick = progress.ticks.get(job)
            fields["diary"] = None if tick is None else {"state": tick.state, "day": tick.day.isoformat()}
        answer["overdue"] = [_job(job, garden) for job in progress.late]
    return answer


def _job(job: Job, garden: Garden) -> Answer:
    planting, need = job.planting, need_of(garden, job.planting)
    return {
        "uid": uid_of(job),
        "day": job.day.isoformat(),
        "week_from": week_of(job.day).isoformat(),
        "job": job.kind,
        "title": job_title(job),
        "crop": planting.crop,
        "bed": planting.bed,
        "strips": list(planting.strips),
        "way": planting.way,
        "garden_year": job.year,
        "plants": planting.plants,
        "rows": planting.rows,
        "material": need.material,
        "pieces": need.pieces,
        "seed_grams": None if need.grams is None else round(need.grams, 3),
        "raised": need.raised,
        "notes": [plain(note) for note in job_notes(job, garden, Look())],
    }


def shopping_answer(
    bought: Mapping[int, Sequence[Purchase]],
    room: Iterable[SillRoom],
    *,
    sill_depth_cm: float,
    scenario_matches: bool,
) -> Answer:
    """Return the purchases by garden year, and the seedlings indoors by half month."""
    return {
        "schema_version": SCHEMA_VERSION,
        "scenario_matches": scenario_matches,
        "years": [
            {"garden_year": year, "purchases": [_purchase(purchase) for purchase in purchases]}
            for year, purchases in bought.items()
        ],
        "sill_depth_cm": sill_depth_cm,
        "seedlings": [
            {
                "from": first_day(month.period).isoformat(),
                "to": last_day(month.period).isoformat(),
                "pots": [{"pot_cm": width, "count": count} for width, count in month.pots.items()],
                "trays": month.trays,
                "area_m2": round(month.area_m2, 4),
                "sill_cm": round(month.sill_cm, 1),
            }
            for month in room
        ],
    }


def _purchase(purchase: Purchase) -> Answer:
    return {
        "ware": purchase.ware,
        "what": purchase.what,
        "amount": purchase.amount,
        "unit": purchase.unit,
        "grams": None if purchase.grams is None else round(purchase.grams, 3),
        "pot_cm": purchase.pot_cm,
    }
