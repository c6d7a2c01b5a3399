"""Past plantings written into a scenario file; its comments, its order and all else in it stay as they are."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.errors import FileTrouble, InputFault
from rotasolve.files.scenarios import read_scenario_text
from rotasolve.files.yaml_entries import entry, with_entries

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.scenario import PastPlanting, Scenario


def with_history(text: str, name: str, catalogue: Catalogue, new: Iterable[PastPlanting]) -> str:
    """Return the text of a scenario file with past plantings added at the end of its ``history``.

    Raises
    ------
    FileTrouble
        If the list cannot be added to; the message holds the lines to put there by hand.
    InputFault
        If the file has faults.
    """
    added, before = list(new), read_scenario_text(text, name, catalogue)
    lines = [_entry(past) for past in added]
    changed = with_entries(text, "history", lines)
    if changed is not None and _reads_as(changed, name, catalogue, before, added):
        return changed
    by_hand = "\n".join(f"  - {line}" for line in lines)
    raise FileTrouble(
        f"{name}: the list 'history' is written so that nothing can be added to it; add by hand:\n{by_hand}"
    )


def _reads_as(text: str, name: str, catalogue: Catalogue, before: Scenario, added: list[PastPlanting]) -> bool:
    try:
        after = read_scenario_text(text, name, catalogue)
    except InputFault:
        return False
    return after == before.model_copy(update={"history": (*before.history, *added)})


def _entry(past: PastPlanting) -> str:
    fields: dict[str, str | int | tuple[int, ...]] = {"bed": past.bed, "crop": past.crop, "year": past.year}
    if past.strips:
        fields["strips"] = past.strips
    if past.until is not None:
        fields["until"] = past.until.isoformat()
    return entry(fields)
