"""What all checks of a scenario share: the file, the record, the catalogue's names and the faults found so far."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.fault import Fault
    from rotasolve.domain.scenario import Scenario
    from rotasolve.files.document import Document, KeyPath


@dataclass
class ScenarioCheck:
    """One scenario being checked.

    ``canonical`` collects the names to be replaced by the catalogue's spelling, by their place in the file.
    """

    document: Document
    scenario: Scenario
    catalogue: Catalogue
    faults: list[Fault] = field(default_factory=list)
    canonical: dict[KeyPath, str] = field(default_factory=dict)

    def refuse(self, path: KeyPath, what: str, mend: str = "") -> None:
        """Note a fault at the value of a path."""
        self.faults.append(self.document.value_fault(path, what, mend))

    def line_of(self, path: KeyPath) -> int:
        """Return the line a value stands in."""
        return self.document.place_of_value(path).line
