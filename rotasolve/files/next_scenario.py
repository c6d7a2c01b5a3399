"""The scenario file of the next year: the old file's text, its comments and order, with what has changed since."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.errors import FileTrouble
from rotasolve.files.scenario_additions import read_or_none
from rotasolve.files.yaml_changes import with_value, without_entries
from rotasolve.files.yaml_entries import entry, with_entries

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.record import Record
    from rotasolve.domain.scenario import Scenario


def next_scenario_text(
    text: str,
    name: str,
    catalogue: Catalogue,
    wanted: Scenario,
    added: Mapping[str, Sequence[Record]],
    gone: Mapping[tuple[str, ...], Collection[int]],
) -> str:
    """Return the text of the next year's file.

    Parameters
    ----------
    text, name
        The old file and its name for messages.
    wanted
        The scenario as the new file must read.
    added
        The records added to each list of the file.
    gone
        The numbers of the entries, from 0, that are taken out of the list at each path.

    Raises
    ------
    FileTrouble
        If the file is written in a way that cannot be changed so.
    """
    changed = with_value(text, "first_year", str(wanted.first_year))
    for path, numbers in gone.items():
        changed = without_entries(changed, path, numbers) if changed is not None and numbers else changed
    for field, records in added.items():
        lines = [entry(record.model_dump(exclude_defaults=True)) for record in records]
        changed = with_entries(changed, field, lines) if changed is not None and lines else changed
    if changed is None or read_or_none(changed, name, catalogue) != wanted:
        raise FileTrouble(
            f"{name}: the next year cannot be written into this file, for it is written in an unusual way; put each "
            "entry of 'history', 'pinned' and 'must_have' on a line of its own that begins with '- '"
        )
    return changed
