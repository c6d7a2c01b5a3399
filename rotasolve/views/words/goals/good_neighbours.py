"""Helpful and harmful neighbours, in words."""

from __future__ import annotations

from rotasolve.goals.good_neighbours import Pair, PairsTogether
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say
from rotasolve.views.words.wording import say_count


@say.register
def _(reached: PairsTogether, look: Look) -> str:
    helped = f"helpful neighbours together {say_count(reached.times, 'time')}"
    helped += f": {_named(reached.helpful)}" if reached.helpful else " (pairs in a bed at the height of a season)"
    if not reached.harmful:
        return helped
    times = say_count(sum(pair.times for pair in reached.harmful), "time")
    return f"{helped}; harmful ones {times}: {_named(reached.harmful)}"


def _named(pairs: tuple[Pair, ...]) -> str:
    """Name the pairs with their evidence, those shown best first."""
    said = []
    for evidence in ("strong", "some"):
        those = [f"{p.one} and {p.other}" for p in pairs if p.evidence == evidence]
        if those:
            said.append(f"{', '.join(those)} ({evidence} evidence)")
    return ", ".join(said)
