"""The tool that each kind of job asks for, where plots could share it: common practice, no source."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rotasolve.relations.work.jobs import JobKind

TOOL_OF: Mapping[JobKind, str] = MappingProxyType(
    {
        "spread compost": "wheelbarrow",
        "lime": "garden spreader",
        "sow": "rake",
        "sow green manure": "rake",
        "plant": "dibber",
        "set out": "trowel",
        "earth up": "draw hoe",
        "clear": "digging fork",
        "dig in": "spade",
    }
)
"""Jobs left out need none, or one that each grower has in a pocket."""
