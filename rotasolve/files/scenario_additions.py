"""Records added to a list of a scenario file; its comments, its order and all else in it stay as they are."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.errors import FileTrouble, InputFault
from rotasolve.files.scenarios import read_scenario_text
from rotasolve.files.yaml_entries import entry, with_entries

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.scenario import ClosedBed, DiseaseSeen, PastPlanting, RawManure, Scenario, Weighed

    Addition = PastPlanting | Weighed | RawManure | ClosedBed | DiseaseSeen


def with_records(
    text: str,
    name: str,
    catalogue: Catalogue,
    added: Sequence[PastPlanting | Weighed | RawManure | ClosedBed | DiseaseSeen],
    field: str,
) -> str:
    """Return the text of a scenario file with records added at the end of one of its lists.

    Parameters
    ----------
    text, name
        The file and its name for messages.
    catalogue
        The crops that may be named.
    added
        The records, in order.
    field
        The list: ``history``, ``weighed``, ``manure``, ``closed`` or ``seen``.

    Raises
    ------
    FileTrouble
        If the list cannot be added to; the message holds the lines to put there by hand.
    InputFault
        If the file has faults.
    """
    before = read_scenario_text(text, name, catalogue)
    wanted = before.model_copy(update={field: (*getattr(before, field), *added)})
    lines = [entry(record.model_dump(mode="json", exclude_defaults=True)) for record in added]
    changed = with_entries(text, field, lines) if lines else text
    if changed is not None and read_or_none(changed, name, catalogue) == wanted:
        return changed
    by_hand = "\n".join(f"  - {line}" for line in lines)
    raise FileTrouble(f"{name}: nothing can be added to its list '{field}'; add by hand:\n{by_hand}")


def read_or_none(text: str, name: str, catalogue: Catalogue) -> Scenario | None:
    """Return the scenario that a text holds, or None if it has faults."""
    try:
        return read_scenario_text(text, name, catalogue)
    except InputFault:
        return None
