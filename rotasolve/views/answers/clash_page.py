"""Why no plan is possible: the claims that cannot all hold, and what giving up would do."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rotasolve.views.words.layout import heading, wrap
from rotasolve.views.words.reasons import reason_list, reason_sentence
from rotasolve.views.words.wording import clean

if TYPE_CHECKING:
    from rotasolve.domain.claim import Claim
    from rotasolve.domain.result import Impossible
    from rotasolve.domain.scenario import Scenario
    from rotasolve.views.words.look import Look


def clash_page(scenario: Scenario, found: Impossible, look: Look) -> str:
    """Return why no plan of a scenario is possible, and the ways out, the grower's own wishes last."""
    lines = heading(clean(scenario.title), look, "=")
    if found.clash:
        several = len(found.clash) > 1
        what = "These cannot all be had at once:" if several else "This alone is more than the beds and seasons allow:"
        lines += wrap(f"No plan can hold every rule. {what}", look.text_width)
        lines += ["", *reason_list(found.clash, look)]
    else:
        lines += wrap("No plan can hold every rule, but no short reason was found.", look.text_width)
    if found.ways_out:
        one = len(found.ways_out) == 1
        lead = "Giving up all of this would do:" if one else "Giving up all of one line would do:"
        lines += ["", *heading(lead, look)]
        for way in found.ways_out:
            lines += wrap(f"- {_say_way(way, look)}", look.text_width, "", "  ")
    elif found.clash:
        which = "any one of them" if len(found.clash) > 1 else "it"
        lines += ["", *wrap(f"Give up or loosen {which} in the scenario and try again.", look.text_width)]
    return "\n".join(lines) + "\n"


def no_clash_page(scenario: Scenario, look: Look) -> str:
    """Return that no clash was found."""
    lines = heading(clean(scenario.title), look, "=")
    lines += wrap("No clash found: what must be had, what is fixed and what grew before go together.", look.text_width)
    return "\n".join(lines) + "\n"


def _say_way(way: tuple[Claim, ...], look: Look) -> str:
    return " And: ".join(reason_sentence(claim, look) for claim in way)
