"""The exceptions of rotasolve, as a tree.

RotasolveError
├── InputFault        a file the grower wrote cannot be used (all faults at once)
├── FileTrouble       a file cannot be found, read or written
├── GardenFault       the scenario and the crops do not go together
│   └── BrokenPlan    a plan breaks rules before anything is moved in it
├── SolverMissing     OR-Tools or HiGHS cannot be loaded on this Python
├── NoEngine          no worker can plan: a cluster is out of reach, or not like this machine
└── InternalFault     a plan of ours broke its own rules: a bug to report

ValueError
├── Unusable          a record refuses a value, and says how to mend it
└── Missing           a record needs a field here that it can do without elsewhere
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.fault import Fault
    from rotasolve.domain.plan import Breach


class RotasolveError(Exception):
    """Base of every error that rotasolve raises on purpose."""


class InputFault(RotasolveError):
    """One or more faults in a file; ``faults`` holds all of them, in file order."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class FileTrouble(RotasolveError):
    """A file is missing, unreadable, or would be overwritten without asking."""


class GardenFault(RotasolveError):
    """Scenario and crops contradict each other in a way no plan can mend: what is wrong, and perhaps how to mend it."""

    def __init__(self, what: str, mend: str = "") -> None:
        self.what, self.mend = what, mend
        super().__init__(f"{what}; {mend}" if mend else what)


class BrokenPlan(GardenFault):
    """A plan breaks rules before anything is moved in it; ``breaches``, one or more, are for a view to say."""

    def __init__(self, breaches: Sequence[Breach]) -> None:
        self.breaches = tuple(breaches)
        places = f"{len(breaches)} place{'' if len(breaches) == 1 else 's'}"
        super().__init__(f"the plan breaks the rules in {places} before anything is moved")


class Unusable(ValueError):
    """A value that a record refuses: what is wrong with it, and how to mend it.

    A ValueError, for pydantic gathers no other ones.
    """

    def __init__(self, what: str, mend: str) -> None:
        self.what, self.mend = what, mend
        super().__init__(f"{what}; {mend}")


class Missing(ValueError):
    """A field that a record can do without elsewhere is needed here: said as any field that is left out."""


class SolverMissing(RotasolveError):
    """A solver library cannot be imported on this machine."""


class NoEngine(RotasolveError):
    """Nothing plans many gardens: a cluster cannot be reached, its library is missing, or its workers differ."""


class InternalFault(RotasolveError):
    """rotasolve produced something its own referee refuses: a defect, please report it."""
