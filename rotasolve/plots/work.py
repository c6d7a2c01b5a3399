"""One order worked out, wherever that happens: JSON in, JSON out.

An order holds the text of a scenario file and of the grower's own crop files, and is read by the same careful readers
as a file is: nothing of it is run. The crops that come with rotasolve are those of the place where the work is done; a
digest makes sure that they are the same.
"""

from __future__ import annotations

import hashlib
import json
import tempfile
import time
from dataclasses import asdict
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rotasolve import __version__
from rotasolve.domain.result import Impossible, OutOfTime
from rotasolve.errors import InputFault, InternalFault, RotasolveError, SolverMissing
from rotasolve.files.crops import load_catalogue
from rotasolve.files.plans import plan_text
from rotasolve.files.scenarios import read_scenario_text, scenario_hash

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.solver.cpsat import Limits

OTHER_ROTASOLVE = "other rotasolve"
"""The outcome of an order that was worked on by another version, or with other crops."""


def digest_of(catalogue: Catalogue) -> str:
    """Return hexadecimal digits that change with any figure of a catalogue, and with the version of rotasolve."""
    text = f"{__version__}\n{catalogue.model_dump_json()}"
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def order_text(scenario: str, name: str, own_crops: tuple[str, ...], digest: str, limits: Limits) -> str:
    """Return an order: the texts of a scenario file and of own crop files, and how far to search."""
    told = {"scenario": scenario, "name": name, "own_crops": own_crops, "digest": digest, "limits": asdict(limits)}
    return json.dumps(told)


def plan_order(text: str) -> str:
    """Return the answer to an order; whatever goes wrong is told in it, nothing is raised.

    ``outcome`` is ``plan``, ``impossible``, ``no plan in time``, ``faults``, ``failed`` or OTHER_ROTASOLVE, ``plan``
    the text of a plan file, ``what`` says what went wrong, ``seconds`` is how long it took.
    """
    begun = time.monotonic()
    try:
        answer = _answer(json.loads(text))
    except InputFault as refusal:
        answer = {"outcome": "faults", "what": str(refusal)}
    except (InternalFault, SolverMissing) as trouble:
        answer = {"outcome": "failed", "what": str(trouble)}
    except RotasolveError as refusal:
        answer = {"outcome": "faults", "what": str(refusal)}
    except Exception as trouble:  # one garden's trouble is not that of the others
        answer = {"outcome": "failed", "what": f"{type(trouble).__name__}: {trouble}"}
    return json.dumps({**answer, "seconds": round(time.monotonic() - begun, 2)})


def _answer(order: dict[str, Any]) -> dict[str, Any]:
    from rotasolve.solver.cpsat import Limits
    from rotasolve.tasks.rotation import plan_rotation

    catalogue, digest = _catalogue(tuple(order["own_crops"]))
    if digest != order["digest"]:
        return {"outcome": OTHER_ROTASOLVE, "what": f"rotasolve {__version__}"}
    scenario = read_scenario_text(order["scenario"], order["name"], catalogue)
    limits = Limits(**order["limits"])
    fingerprint = scenario_hash(scenario)
    found = plan_rotation(scenario, catalogue, limits, fingerprint=fingerprint)
    if isinstance(found, Impossible):
        return {"outcome": "impossible", "what": "", "fingerprint": fingerprint}
    if isinstance(found, OutOfTime):
        return {"outcome": "no plan in time", "what": found.limit}
    return {"outcome": "plan", "what": "", "plan": plan_text(found.plan)}


@lru_cache(maxsize=1)
def _catalogue(own_crops: tuple[str, ...]) -> tuple[Catalogue, str]:
    with tempfile.TemporaryDirectory(prefix="rotasolve-") as folder:
        files = [Path(folder) / f"{number}.yaml" for number in range(len(own_crops))]
        for file, text in zip(files, own_crops, strict=True):
            file.write_bytes(text.encode("utf-8"))
        catalogue = load_catalogue(files)
    return catalogue, digest_of(catalogue)
