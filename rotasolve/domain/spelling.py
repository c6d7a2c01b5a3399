"""Names of crops as growers spell them: plurals, hyphens, accents, capitals and blanks do not tell them apart."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_WORDS = re.compile(r"[^\W_]+")
_LONGEST = 200
"""Longer than any name may be: what is longer is compared as it stands."""


@lru_cache(maxsize=4096)
def spelling_key(name: str) -> str:
    """Return what all spellings of a name have in common: ``sweetcorn`` for sweet corn, Sweet-Corn and sweet corns."""
    if len(name) > _LONGEST:
        return name
    letters = unicodedata.normalize("NFKD", name.casefold().replace("'", "").replace("\u2019", ""))
    plain = "".join(sign for sign in letters if not unicodedata.combining(sign))
    # What holds no letter at all, such as a row of signs, is told apart by its signs.
    # Chilli and chilly, choi and choy are one.
    return "".join(_singular(word) for word in _WORDS.findall(plain)).replace("y", "i") or plain


def _singular(word: str) -> str:
    """Return one word without its plural; berries and berry both end in i when their y is one."""
    if len(word) <= 3:
        return word
    if word == "leaves":
        return "leaf"
    if word.endswith(("oes", "shes", "ches", "sses", "xes", "ies")):
        return word[:-2]
    return word[:-1] if word.endswith("s") and not word.endswith(("ss", "us", "ois")) else word
