"""The shipped catalogue, read once for all checks of the crop files."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from rotasolve.files.crops import load_catalogue

if TYPE_CHECKING:
    from rotasolve.domain.catalogue import Catalogue


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return load_catalogue()
