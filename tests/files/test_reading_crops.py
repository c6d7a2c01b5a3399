from __future__ import annotations

import copy
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml

from rotasolve.domain.catalogue import Catalogue
from rotasolve.errors import FileTrouble, InputFault
from rotasolve.files import crops
from rotasolve.files.crops import load_catalogue
from rotasolve.files.shipped import shipped_files, shipped_folder

Load = Callable[..., Catalogue]


@pytest.fixture
def load(tmp_path: Path, small_data: dict[str, Any], monkeypatch: pytest.MonkeyPatch) -> Load:
    """Return a loader of the small catalogue with own files given as texts."""
    base = tmp_path / "base.yaml"
    base.write_text(yaml.safe_dump(small_data, sort_keys=False), encoding="utf-8")
    monkeypatch.setattr(crops, "shipped_files", lambda name: (base,))
    monkeypatch.setattr(crops, "_shipped_shelf", crops._shipped_shelf.__wrapped__)
    monkeypatch.chdir(tmp_path)

    def load_with(*texts: str) -> Catalogue:
        files = [Path(f"own{number}.yaml") for number, _ in enumerate(texts)]
        for file, text in zip(files, texts, strict=True):
            file.write_text(text, encoding="utf-8")
        return load_catalogue(files)

    return load_with


def own_crop(small_data: dict[str, Any], **changes: Any) -> str:
    crop = copy.deepcopy(small_data["crops"][0]) | changes
    return yaml.safe_dump({"crops": [crop]}, sort_keys=False)


def refused(load: Load, *texts: str) -> list[str]:
    with pytest.raises(InputFault) as refusal:
        load(*texts)
    return [str(fault) for fault in refusal.value.faults]


def test_own_crop_replaces_and_keeps_the_known_spelling(load: Load, small_data: dict[str, Any]) -> None:
    catalogue = load(own_crop(small_data, name="Tomato", species="Mine"))
    assert [(crop.name, crop.species) for crop in catalogue.crops] == [
        ("tomato", "Mine"),
        ("zucchini", "Species of zucchini"),
    ]


def test_later_own_file_wins_and_new_crops_and_sources_are_added(load: Load, small_data: dict[str, Any]) -> None:
    oca = own_crop(small_data, name="oca", family="Oxalidaceae").replace("source: memory", "source: [memory, aunt]")
    more = (
        "families: [{name: Oxalidaceae, common_name: sorrels, source: aunt}]\n"
        "sources: {aunt: {title: My aunt}}\n"
        "pathogens: [{name: Wilt, hosts: [oca], source: aunt}]\n"
    )
    catalogue = load(own_crop(small_data, species="First"), own_crop(small_data, species="Second"), oca, more)
    assert [crop.name for crop in catalogue.crops] == ["oca", "tomato", "zucchini"]
    assert catalogue.crop("tomato").species == "Second"
    assert catalogue.sources["aunt"].title == "My aunt"
    assert [pathogen.hosts for pathogen in catalogue.pathogens] == [("oca",)]


def test_a_yield_known_at_a_strange_climate_or_under_a_strange_cover_is_a_fault(
    load: Load, small_data: dict[str, Any]
) -> None:
    crop = own_crop(small_data, name="oca") + "  yield_known_at: Atlantis\n  yield_known_under: open grownd\n"
    climate = (
        "reference_climates:\n- name: the moors\n  latitude: 50\n  source: memory\n"
        f"  climate: {{mean_minima_c: {[1] * 12}, mean_maxima_c: {[9] * 12}}}\n"
    )
    assert refused(load, crop + climate) == [
        "own0.yaml:43:19: 'Atlantis' is not known - describe it under 'reference_climates'",
        "own0.yaml:44:22: 'open grownd' is not known - did you mean 'open ground'?",
    ]


def test_unknown_family_source_host_and_sides_come_all_at_once(load: Load, small_data: dict[str, Any]) -> None:
    crop = own_crop(small_data, name="oca", family="Solanacea").replace("source: memory", "source: hearsay", 1)
    remarks = (
        "pathogens: [{name: rot, hosts: [tomatoe, 'family:Solan'], source: memory}]\n"
        "successions:\n- {before: tomato, after: zuchini, effect: bad, strength: some, source: memory}\n"
        "neighbours:\n- {one: family:Cucurbitaceae, other: mango, effect: bad, evidence: some, source: [memory, x]}\n"
    )
    assert refused(load, crop, remarks) == [
        "own0.yaml:5:11: the family 'Solanacea' is not known - did you mean 'Solanaceae'?",
        "own0.yaml:8:13: the source 'hearsay' is not described - describe it under 'sources'",
        "own1.yaml:1:33: 'tomatoe' is not a crop known here - did you mean 'tomato'?",
        "own1.yaml:1:42: 'family:Solan' is not a family known here - did you mean 'family:Solanaceae'?",
        "own1.yaml:3:27: 'zuchini' is not a crop known here - did you mean 'zucchini'?",
        "own1.yaml:5:38: 'mango' is not a crop known here - write a crop or family:NAME",
        "own1.yaml:5:91: the source 'x' is not described - describe it under 'sources'",
    ]


def test_names_are_unique(load: Load, small_data: dict[str, Any]) -> None:
    assert refused(load, own_crop(small_data, name="courgette")) == [
        "own0.yaml:2:9: 'courgette' is a name of 'zucchini' already - "
        "call it 'zucchini' to replace that crop, or choose another name"
    ]
    assert refused(load, own_crop(small_data, name="oca", also=["Tomato"])) == [
        "own0.yaml:4:5: 'Tomato' is a name of 'tomato' already - remove it"
    ]
    twice = own_crop(small_data) + own_crop(small_data).removeprefix("crops:\n")
    assert "'tomato' is written twice in 'crops', first in line 2 - keep one of the two" in refused(load, twice)[0]


def test_faults_of_several_files_come_together(load: Load) -> None:
    assert [told.split(" ")[0] for told in refused(load, "crops: 3\n", "a: 1\na: 2\n")] == [
        "own0.yaml:1:8:",
        "own1.yaml:2:1:",
    ]
    with pytest.raises(FileTrouble, match="no such file"):
        load_catalogue([Path("none.yaml")])


def test_figure_without_source_or_with_a_wrong_unit_is_refused(load: Load, small_data: dict[str, Any]) -> None:
    text = own_crop(small_data).replace("unit: cm", "unit: centimetres", 1)
    assert "'unit' cannot be 'centimetres' - write one of: cm, kg per plant" in refused(load, text)[0]
    text = own_crop(small_data, height={"value": 3, "unit": "cm"})
    assert "'height' has no 'source' - add a line 'source: ...'" in refused(load, text)[0]


def test_shipped_crops_load() -> None:
    try:
        files = shipped_files("crops")
    except FileTrouble:
        pytest.skip("no shipped crops here")
    catalogue = load_catalogue()
    assert catalogue is load_catalogue()
    assert len(catalogue.crops) >= len(files)


def test_missing_folder_names_both_places(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    package = tmp_path / "rotasolve"
    monkeypatch.setattr("importlib.resources.files", lambda name: package)
    (tmp_path / "crops").mkdir()
    with pytest.raises(FileTrouble) as trouble:
        shipped_folder("crops")
    assert str(package / "_shipped" / "crops") in str(trouble.value)
    assert str(tmp_path / "crops") in str(trouble.value)
    (tmp_path / "pyproject.toml").touch()
    assert shipped_folder("crops") == tmp_path / "crops"
    (package / "_shipped" / "crops").mkdir(parents=True)
    assert shipped_folder("crops") == package / "_shipped" / "crops"
