"""Facts into words: each file of ``views/words/rules`` and ``views/words/goals`` teaches ``say`` its kinds of facts."""

from __future__ import annotations

from functools import singledispatch

from rotasolve.domain.claim import Facts
from rotasolve.views.words.look import Look


@singledispatch
def say(facts: Facts, look: Look) -> str:
    """Say facts as a part of a sentence: small letter first, no full stop, lengths in the user's units.

    Raises
    ------
    TypeError
        If no file of these says facts of this kind.
    """
    raise TypeError(f"no words are known for {type(facts).__name__}")
