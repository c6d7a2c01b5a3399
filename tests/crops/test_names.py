"""Names lead somewhere and to one place only."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue

FAMILY_MARK = "family:"


def _strangers(catalogue: Catalogue, names: list[str]) -> list[str]:
    crops = {crop.name for crop in catalogue.crops}
    families = {FAMILY_MARK + family.name for family in catalogue.families}
    return sorted(set(names) - crops - families)


def test_there_are_at_least_55_crops(catalogue: Catalogue) -> None:
    assert len(catalogue.crops) >= 55


def test_every_crop_belongs_to_a_known_family(catalogue: Catalogue) -> None:
    assert {crop.family for crop in catalogue.crops} == {family.name for family in catalogue.families}


def test_no_name_of_a_crop_is_another_one_s(catalogue: Catalogue) -> None:
    # Other names may be shared: tests/crops/test_other_names.py has the few that are, which are asked about.
    names = Counter(name.casefold() for crop in catalogue.crops for name in (crop.name, *dict.fromkeys(crop.also)))
    assert [crop.name for crop in catalogue.crops if names[crop.name.casefold()] > 1] == []


def test_hosts_are_known(catalogue: Catalogue) -> None:
    assert _strangers(catalogue, [host for pathogen in catalogue.pathogens for host in pathogen.hosts]) == []


def test_both_sides_of_successions_are_known(catalogue: Catalogue) -> None:
    sides = [side for remark in catalogue.successions for side in (remark.before, remark.after)]
    assert _strangers(catalogue, sides) == []


def test_both_sides_of_neighbours_are_known(catalogue: Catalogue) -> None:
    sides = [side for remark in catalogue.neighbours for side in (remark.one, remark.other)]
    assert _strangers(catalogue, sides) == []


def test_the_five_covers_are_there(catalogue: Catalogue) -> None:
    assert [cover.name for cover in catalogue.covers] == [
        "open ground",
        "cold frame",
        "fleece",
        "low tunnel",
        "tunnel",
    ]
    assert catalogue.cover("open ground").days_earlier == catalogue.cover("open ground").days_later == 0


def test_covers_are_left_out_of_the_rest_with_a_reason(catalogue: Catalogue) -> None:
    # PGRO: vetch and berseem clover covers do not raise the risk of pea foot rot. CORNELL-ORG55: only grasses rest
    # ground from white mould.
    exempt = {crop.name: crop for crop in catalogue.crops if not crop.counts_for_rest}
    assert all(crop.green_manure for crop in exempt.values())
    reasons = {"Fabaceae": "PGRO", "Poaceae": "CORNELL-ORG55"}
    assert all(reasons[crop.family] in crop.rest_note for crop in exempt.values())


def test_a_cover_that_is_a_host_counts_where_its_disease_is_known(catalogue: Catalogue) -> None:
    # UCIPM-BASAL names oats among those that keep the fungus alive; PGRO's foot rots are those of Vicia faba.
    hosts = {pathogen.name: pathogen.hosts for pathogen in catalogue.pathogens if pathogen.source != ("UMAN-BASAL",)}
    assert "oats" in hosts["Fusarium basal rot of onion"]
    assert "field bean" in hosts["pea and bean foot rots"]
    assert catalogue.crop("field bean").counts_for_rest


def test_mustard_cover_counts_as_a_brassica(catalogue: Catalogue) -> None:
    # UCONN and OSU-CLUB: mustard covers are hosts of clubroot.
    mustard = catalogue.crop("green mustard")
    assert mustard.family == "Brassicaceae"
    assert mustard.counts_for_rest


def test_gaps_are_complete_years_without_a_host(catalogue: Catalogue) -> None:
    gaps = {(p.name, p.source[0]): (p.gap_low, p.gap_high) for p in catalogue.pathogens}
    # UCIPM-BR: not more often than every second year, which leaves 1 year without.
    assert gaps["black rot of brassicas", "UCIPM-BR"] == (1, None)
    # CBG-TOM: a three- to four-year rotation leaves 2 to 3 years without.
    assert gaps["early blight", "CBG-TOM"] == (2, 3)
    # PGRO: no more than one year in five leaves 4 years without; as a precaution five.
    assert gaps["pea and bean foot rots", "PGRO"] == (4, 5)


def test_white_rot_closes_the_bed(catalogue: Catalogue) -> None:
    # UMASS-WR, UCIPM-WR, UME-2062: viable for 15, 20, 40 years.
    rot = [pathogen for pathogen in catalogue.pathogens if pathogen.name == "onion white rot"]
    assert len(rot) == 3
    assert all(pathogen.closes for pathogen in rot)
