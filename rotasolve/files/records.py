"""A document to a record: the format number, then every field, strictly."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, TypeVar

from pydantic import BaseModel, ValidationError

from rotasolve.domain.measures import WRITTEN
from rotasolve.errors import InputFault
from rotasolve.files.faults import faults_of

if TYPE_CHECKING:
    from rotasolve.files.document import Document

SomeRecord = TypeVar("SomeRecord", bound=BaseModel)


def read_record(document: Document, model: type[SomeRecord], newest_format: int = 1) -> SomeRecord:
    """Return the record a document holds.

    Numbers in quotes, ``yes`` for true and the like are refused rather than guessed at.

    Parameters
    ----------
    document
        The file's data with places.
    model
        The record wanted.
    newest_format
        The newest ``format`` this version reads.

    Raises
    ------
    InputFault
        With all faults, in file order.
    """
    data = document.data
    if not isinstance(data, dict):
        raise InputFault([document.value_fault((), "the file must hold fields", "write each as field: value")])
    written = data.get("format")
    if isinstance(written, int) and not isinstance(written, bool) and written > newest_format:
        what = f"this file is written in format {written}; this rotasolve reads format {newest_format}"
        raise InputFault([document.value_fault(("format",), what, "use a newer rotasolve")])
    try:
        # Through JSON, because only there strictness still lets a list be a tuple.
        return model.model_validate_json(json.dumps(data), strict=True, context={WRITTEN: True})
    except ValidationError as refusal:
        raise InputFault(faults_of(refusal, document, model)) from None
