"""What all tests have in common: no test is timed, for a busy machine is no defect (speed is for benchmarks)."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("rotasolve", deadline=None)
settings.load_profile("rotasolve")
