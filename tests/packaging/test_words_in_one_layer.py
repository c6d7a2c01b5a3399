"""Words stand in views: what lies below hands over facts (rules and goals have this test beside their others)."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.helpers.every import texts_put_together

ROOT = Path(__file__).parents[2]
MODULES = sorted(
    ".".join(file.relative_to(ROOT).with_suffix("").parts)
    for layer in ("relations", "recount")
    for file in (ROOT / "rotasolve" / layer).rglob("*.py")
    if file.stem != "__init__"
)


@pytest.mark.parametrize("module", MODULES)
def test_no_sentence_is_made_below_views(module: str) -> None:
    """Refusals are raised with words, for they end the run; everything else is said by a view."""
    assert texts_put_together(module) == []


def test_a_sentence_is_seen_where_one_is_made() -> None:
    assert "the season is too short" not in " ".join(texts_put_together("rotasolve.relations.season.windows"))
    assert any("the season is too short" in text for text in texts_put_together("rotasolve.views.words.windows"))
