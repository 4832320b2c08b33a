"""What was learned, as the catalogue wants it: two short SELECTs that every look makes."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction

from sqlalchemy import Connection, select

from inventory.catalogue import fold
from inventory.store.plain import table
from inventory.store.selecting import rows

_PART, _RATE, _SHARE = table("part"), table("learned_rate"), table("learned_loss")
_MILLION = 1_000_000


def factors(connection: Connection) -> dict[tuple[str, str], Fraction]:
    """What a bill's quantities are multiplied by, by folded part name and `per`."""
    query = select(_PART.c.name, _RATE.c.per, _RATE.c.factor).select_from(_RATE.join(_PART))
    return {(fold(part), per): Fraction(factor, _MILLION) for part, per, factor in rows(connection, query)}


def shares(connection: Connection) -> dict[int, dict[str, Fraction]]:
    """Learned losses by the number of the material, by stage."""
    found: dict[int, dict[str, Fraction]] = defaultdict(dict)
    query = select(_SHARE.c.material_id, _SHARE.c.stage, _SHARE.c.share)
    for material, stage, share in rows(connection, query):
        found[material][stage] = Fraction(share, _MILLION)
    return found
