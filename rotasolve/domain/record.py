"""The base of every record: frozen, strict about unknown fields."""

from __future__ import annotations

from typing import Any, ClassVar

from pydantic import BaseModel, ConfigDict, SerializerFunctionWrapHandler, model_serializer


class Record(BaseModel):
    """A frozen record; an unknown field is a fault, never silently dropped.

    ``later`` names the fields that came after the first version of a file. While they hold their defaults they are not
    written, so that an old file keeps its hash and an old plan its text.
    """

    later: ClassVar[frozenset[str]] = frozenset()

    model_config = ConfigDict(frozen=True, extra="forbid", str_strip_whitespace=True)

    @model_serializer(mode="wrap")
    def _written(self, handler: SerializerFunctionWrapHandler) -> dict[str, Any]:
        fields: dict[str, Any] = handler(self)
        for name in self.later & fields.keys():
            if getattr(self, name) == type(self).model_fields[name].default:
                del fields[name]
        return fields
