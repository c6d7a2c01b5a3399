"""Room for a crop's spacing, in words."""

from __future__ import annotations

from rotasolve.rules.spacing_capacity import (
    BedTooSmall,
    BlockTooSmall,
    RowsTooDeep,
    RowTooShort,
    SpacingClaim,
    StripsApart,
    TooMany,
    TooManyInARow,
)
from rotasolve.views.words.look import Look
from rotasolve.views.words.saying import say
from rotasolve.views.words.wording import say_length


@say.register
def _(claim: SpacingClaim, look: Look) -> str:
    return f"{claim.crop} in {claim.bed} keeps its spacing"


@say.register
def _(found: StripsApart, look: Look) -> str:
    return "its strips do not lie side by side as one block"


@say.register
def _(found: TooMany, look: Look) -> str:
    return f"{found.plants} plants in {found.rows} rows, room for {found.room_plants} in {found.room_rows}"


@say.register
def _(found: TooManyInARow, look: Look) -> str:
    return f"{found.plants} plants in {found.rows} rows of at most {found.most_in_a_row}"


@say.register
def _(found: BlockTooSmall, look: Look) -> str:
    return f"{found.rows} rows, needs a block of at least {found.least_rows}"


@say.register
def _(why: BedTooSmall, look: Look) -> str:
    return f"{why.plants} plants, the whole bed holds {why.room_plants}"


@say.register
def _(why: RowTooShort, look: Look) -> str:
    return f"needs {say_length(why.spacing_cm, look)} in the row, {say_length(why.free_cm, look)} free"


@say.register
def _(why: RowsTooDeep, look: Look) -> str:
    distance, free = say_length(why.distance_cm, look), say_length(why.free_cm, look)
    if why.rows > 1:
        return f"needs a block of {why.rows} rows {distance} apart, {free} free"
    return f"needs {distance} between rows, {free} free"
