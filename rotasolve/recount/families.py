"""Which crops must rest together and which help each other, read from the catalogue's lists without the graph."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rotasolve.domain.bed import Bed
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.scenario import Rules


@dataclass(frozen=True)
class Resting:
    """Crops that stay off the same ground for ``gap`` complete years, or for good; better ``gap_wished``."""

    name: str
    crops: frozenset[str]
    gap: int
    gap_wished: int
    closes: bool = False
    disease: bool = False


def restings(catalogue: Catalogue, rules: Rules, bed: Bed) -> Iterator[Resting]:
    """Yield the families that rest everywhere, and the hosts of each disease known in the bed."""
    for family in sorted(catalogue.families, key=lambda family: family.name):
        if family.rest:
            members = {crop.name for crop in catalogue.crops if crop.family == family.name and crop.counts_for_rest}
            gap = family.gap_hard if rules.family_gap is None else rules.family_gap
            wished = family.gap_wished if rules.family_gap_wished is None else rules.family_gap_wished
            yield Resting(family.name, frozenset(members), gap, max(gap, wished))
    for name in bed.diseases:
        records = [pathogen for pathogen in catalogue.pathogens if pathogen.name == name]
        hosts = named_by(catalogue, (host for record in records for host in record.hosts))
        gap = _middle_upwards([record.gap_low for record in records if record.gap_low is not None])
        yield Resting(name, hosts, gap, gap, any(record.closes for record in records), disease=True)


def named_by(catalogue: Catalogue, names: Iterable[str]) -> frozenset[str]:
    """Return the crops that names stand for; ``family:NAME`` stands for all of a family."""
    wanted = set(names)
    return frozenset(c.name for c in catalogue.crops if c.name in wanted or f"family:{c.family}" in wanted)


def pairs_with_evidence(catalogue: Catalogue, effect: str, crops: frozenset[str]) -> dict[tuple[str, str], str]:
    """Return the pairs of crops that help or harm each other (``good``, ``bad``) with some or strong evidence."""
    found: dict[tuple[str, str], str] = {}
    for evidence in ("some", "strong"):
        for remark in catalogue.neighbours:
            if (remark.effect, remark.evidence) == (effect, evidence):
                for one in named_by(catalogue, [remark.one]) & crops:
                    for other in named_by(catalogue, [remark.other]) & crops - {one}:
                        found[min(one, other), max(one, other)] = evidence
    return {pair: found[pair] for pair in sorted(found)}


def _middle_upwards(years: list[int]) -> int:
    """Return the middle figure; of two in the middle what lies half-way, rounded up."""
    if not years:
        return 0
    low, high = sorted(years)[(len(years) - 1) // 2], sorted(years)[len(years) // 2]
    return (low + high + 1) // 2
