"""Old records from tables: columns by their headings, faults row by row, and a scenario file else left as it was."""

from __future__ import annotations

import csv
import io
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rotasolve.domain.scenario import PastPlanting
from rotasolve.errors import FileTrouble, InputFault
from rotasolve.files.old_records import HEADINGS, Column, columns_of, history_in, read_table
from rotasolve.files.scenario_additions import with_records
from rotasolve.files.scenarios import read_scenario_text
from rotasolve.files.yaml_entries import with_entries
from tests.helpers.diaries import BEDS, GARDEN, NAMED, TINY
from tests.helpers.tiny import CATALOGUE

HEAD = """\
# Our garden.
format: 1
title: Two beds
site: {latitude: 50, last_frost: {half: 1 May}, first_frost: {half: 1 October}}   # estimated
first_year: 2027
beds:
  - {name: gate bed, length: 2.4 m, width: 1.2 m, strip: 60 cm}
  # The small one.
  - {name: left, length: 1.2 m, width: 1.2 m, strip: 60 cm}
"""
NEW = (
    PastPlanting(bed="left", crop="kale", year=2026),
    PastPlanting.model_validate(
        {"bed": "gate bed", "crop": "leek", "year": 2026, "strips": (1, 2), "until": "2027-03-01"}
    ),
)
LINES = (
    "{bed: left, crop: kale, year: 2026}",
    '{bed: gate bed, crop: leek, year: 2026, strips: [1, 2], until: "2027-03-01"}',
)


def history(text: str, tmp_path: Path, **means: str) -> list[tuple[object, ...]]:
    file = tmp_path / "old.csv"
    file.write_bytes(text.encode())
    table = read_table(file)
    found = history_in(table, columns_of(table, {}), TINY, CATALOGUE, means)
    return [(past.bed, past.crop, past.year, past.strips, str(past.until or "")) for past in found]


def faults(text: str, tmp_path: Path) -> list[str]:
    with pytest.raises(InputFault) as refusal:
        history(text, tmp_path)
    return [str(fault).split("old.csv:")[1] for fault in refusal.value.faults]


@pytest.mark.parametrize("parting", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_a_table_is_read_whatever_parts_its_cells(tmp_path: Path, parting: str, end: str) -> None:
    rows = [
        ["Season", "Plot", "Vegetable", "Strips", "Cleared", "Remark"],
        ["2026", "Gate  Bed", "KALE", "1-2 and 4", "", "fine"],
        ["2025-05-12", "left", "lettuce", "", "2025-07-01", ""],
        ["", "", "", "", "", ""],
        ["2026", "gate bed", "kale", "1, 2, 4" if parting != "," else "1 2 4", "", "twice"],
    ]
    text = end.join(parting.join(row) for row in rows) + end
    assert history(text, tmp_path) == [
        ("gate bed", "kale", 2026, (1, 2, 4), ""),
        ("left", "lettuce", 2025, (), "2025-07-01"),
    ]


def test_faults_are_told_row_by_row_and_all_at_once(tmp_path: Path) -> None:
    text = "bed,crop,year,strips\nleft,kale,2026,3\nlefft,cale,2026,\nleft,,soon,\nleft,kale,2027,\nleft,kale,2026,\n"
    assert faults(text, tmp_path) == [
        "2:16: '3' is no strip of 'left', which has 2 - write strips as 1-3, 5; leave the cell empty for the whole bed",
        "3:1: there is no bed 'lefft' - did you mean 'left'? (--means 'lefft=...' says what it is)",
        "3:7: the crop 'cale' is not known - did you mean 'kale'? (--means 'cale=...' says what it is)",
        "4:1: the row has no crop - write it, or take the row out",
        "5:11: 2027 does not lie before the plan, which begins in 2027 - take the row out, or say until when it stands",
    ]
    assert faults("bed,crop,year\nleft,kale,soon\n", tmp_path) == [
        "2:11: 'soon' is neither a year nor a date - write it as 2026 or 2026-05-12"
    ]
    assert faults("bed,crop,year\n", tmp_path)[0].startswith("1:1: the table needs a line of headings")


def test_names_that_were_other_ones_then(tmp_path: Path) -> None:
    text = "bed,crop,year\nBed 1,borecole,2026\n"
    assert history(text, tmp_path, **{"bed 1": "left", "Borecole": "kale"}) == [("left", "kale", 2026, (), "")]


def test_columns_that_are_told_go_before_headings(tmp_path: Path) -> None:
    file = tmp_path / "old.csv"
    file.write_text("year,Beet,Kultur,bed\n2026,left,kale,blue\n", encoding="utf-8")
    table = read_table(file)
    told: dict[Column, str] = {"bed": "beet", "crop": "Kultur"}
    assert columns_of(table, {}) == {"bed": 3, "year": 0}
    assert columns_of(table, told) == {"bed": 1, "crop": 2, "year": 0}
    with pytest.raises(FileTrouble, match="no column is headed 'Sort'; there are 'year', 'Beet', 'Kultur', 'bed'"):
        columns_of(table, {"crop": "Sort"})
    every = [heading for headings in HEADINGS.values() for heading in headings]
    assert len(every) == len(set(every))


def test_a_spreadsheet_is_to_be_saved_as_csv(tmp_path: Path) -> None:
    file = tmp_path / "old.xlsx"
    file.write_bytes(b"PK\x03\x04")
    with pytest.raises(FileTrouble, match="save its sheet as CSV"):
        read_table(file)


_PASTS = st.builds(
    lambda bed, crop, year, until: PastPlanting(bed=bed, crop=crop, year=year, until=until),
    st.sampled_from([bed.name for bed in BEDS]),
    st.sampled_from([one.name for one in NAMED.crops]),
    st.integers(1950, 2026),
    st.none() | st.dates(date(2026, 12, 31), date(2028, 1, 1)),
)


@given(st.lists(_PASTS, min_size=1, max_size=5, unique=True), st.sampled_from([",", ";", "\t"]))
def test_whatever_a_table_holds_is_read_back(pasts: list[PastPlanting], parting: str) -> None:
    page = io.StringIO(newline="")
    writer = csv.writer(page, delimiter=parting)
    writer.writerow(["bed", "crop", "year", "until"])
    writer.writerows([past.bed, past.crop, past.year, past.until or ""] for past in pasts)
    with TemporaryDirectory() as folder:
        file = Path(folder) / "old.csv"
        file.write_bytes(page.getvalue().encode())
        table = read_table(file)
    assert history_in(table, columns_of(table, {}), GARDEN, NAMED, {}) == tuple(pasts)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("", "history:\n  - {0}\n  - {1}\n"),
        ("history: []   # none yet\nyears: 1\n", "history:   # none yet\n  - {0}\n  - {1}\nyears: 1\n"),
        (
            "history:\n- bed: left\n  crop: leek   # or\n  year: 2020  # so\n\n# The end.\nyears: 1\n",
            "history:\n- bed: left\n  crop: leek   # or\n  year: 2020  # so\n- {0}\n- {1}\n\n# The end.\nyears: 1\n",
        ),
        (
            "history:\n    - {bed: left, crop: leek, year: 2020}\n  # and\nyears: 2",
            "history:\n    - {bed: left, crop: leek, year: 2020}\n    - {0}\n    - {1}\n  # and\nyears: 2",
        ),
        (
            "history: [{bed: left, crop: leek, year: 2020}, ]\n",
            "history: [{bed: left, crop: leek, year: 2020}, {0}, {1}]\n",
        ),
        (
            "history: [{bed: left, crop: leek, year: 2020}]  # x\n",
            "history: [{bed: left, crop: leek, year: 2020}, {0}, {1}]  # x\n",
        ),
        (
            "history:\n  - {bed: left, crop: leek, year: 2020}",
            "history:\n  - {bed: left, crop: leek, year: 2020}\n  - {0}\n  - {1}",
        ),
    ],
)
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_lines_are_added_and_all_else_stays(before: str, after: str, end: str) -> None:
    text = (HEAD + before).replace("\n", end)
    changed = with_records(text, "g.yaml", CATALOGUE, NEW, "history")
    assert changed == (HEAD + after.replace("{0}", LINES[0]).replace("{1}", LINES[1])).replace("\n", end)
    assert read_scenario_text(changed, "g.yaml", CATALOGUE).history[-2:] == NEW


def test_a_list_that_cannot_be_added_to_is_left_alone() -> None:
    odd = "history:\n  -\n    bed: left\n    crop: leek\n    year: 2020\n"
    with pytest.raises(FileTrouble, match=r"add by hand:\n  - \{bed: left, crop: kale, year: 2026\}\n  - \{bed: gate"):
        with_records(HEAD + odd, "g.yaml", CATALOGUE, NEW, "history")
    comment = "history: [{bed: left, crop: leek, year: 2020} # the last\n]\n"
    with pytest.raises(FileTrouble, match="add by hand"):
        with_records(HEAD + comment, "g.yaml", CATALOGUE, NEW, "history")
    assert with_entries("{a: 1}", "b", ["c"]) is None
    assert with_entries("a: [", "b", ["c"]) is None
