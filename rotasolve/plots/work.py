"""One order worked out, wherever that happens: JSON in, JSON out.

An order holds the texts of a scenario file and of the grower's own crop files. They are read by the same careful
readers as any file: nothing of them is run. The crops that come with rotasolve are those of the place where the work is
done; a digest makes sure that they are the same.
"""

from __future__ import annotations

import hashlib
import json
import tempfile
import time
from dataclasses import asdict
from functools import cache
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rotasolve import __version__
from rotasolve.domain.result import Impossible, OutOfTime
from rotasolve.errors import InputFault, InternalFault, RotasolveError, SolverMissing
from rotasolve.files.crops import load_catalogue
from rotasolve.files.plans import plan_text
from rotasolve.files.scenarios import read_text_with_catalogue, scenario_hash

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rotasolve.domain.catalogue import Catalogue
    from rotasolve.domain.scenario import Scenario
    from rotasolve.solver.cpsat import Limits

NOT_ALIKE = "not alike"
"""The outcome of an order where versions or crops are not those of the place that it came from."""


@cache
def versions() -> str:
    """Return the versions that a plan depends on: with other solvers the same effort finds other plans."""
    return ", ".join([f"rotasolve {__version__}", *(f"{name} {version(name)}" for name in ("ortools", "highspy"))])


@cache
def digest() -> str:
    """Return hexadecimal digits that change with the versions and any figure of the crops that come with rotasolve."""
    text = f"{versions()}\n{load_catalogue().model_dump_json()}"
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def order_text(scenario: str, name: str, crop_files: Sequence[str], limits: Limits) -> str:
    """Return an order.

    Parameters
    ----------
    scenario
        The text of a scenario file.
    name
        The file's name for messages.
    crop_files
        The texts of the crop files that it names, and of further ones.
    limits
        How far to search.
    """
    texts = {"scenario": scenario, "name": name, "crop_files": list(crop_files)}
    return json.dumps({**texts, "digest": digest(), "limits": asdict(limits)})


def plan_order(text: str) -> str:
    """Return the answer to an order; whatever goes wrong is told in it, nothing is raised.

    ``outcome`` is ``plan``, ``impossible``, ``no plan in time``, ``faults``, ``failed`` or NOT_ALIKE, ``plan``
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

    if order["digest"] != digest():
        return {"outcome": NOT_ALIKE, "what": versions()}
    scenario, catalogue = _read(order)
    fingerprint = scenario_hash(scenario)
    found = plan_rotation(scenario, catalogue, Limits(**order["limits"]), fingerprint=fingerprint)
    if isinstance(found, Impossible):
        return {"outcome": "impossible", "what": "", "fingerprint": fingerprint}
    if isinstance(found, OutOfTime):
        return {"outcome": "no plan in time", "what": found.limit}
    return {"outcome": "plan", "what": "", "plan": plan_text(found.plan)}


def _read(order: dict[str, Any]) -> tuple[Scenario, Catalogue]:
    texts = order["crop_files"]
    with tempfile.TemporaryDirectory(prefix="rotasolve-") as folder:
        files = [Path(folder) / f"{number}.yaml" for number in range(len(texts))]
        for file, text in zip(files, texts, strict=True):
            file.write_bytes(text.encode("utf-8"))
        return read_text_with_catalogue(order["scenario"], order["name"], files)
