"""The base of every record: frozen, strict about unknown fields."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Record(BaseModel):
    """A frozen record; an unknown field is a fault, never silently dropped."""

    model_config = ConfigDict(frozen=True, extra="forbid", str_strip_whitespace=True)
