"""The catalogue out of its tables: a few set-wise SELECTs, no object per row besides the catalogue's own."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from fractions import Fraction
from itertools import groupby
from operator import itemgetter
from typing import Any

from sqlalchemy import Connection, Select, func, select

from inventory.catalogue import BillLine, Catalogue, Known, Offer, Part
from inventory.store.mapping.codecs import CODECS
from inventory.store.mapping.mapper import grouped, names_of
from inventory.store.mapping.shapes import (
    BARREL,
    BILL_LINE,
    DETAILS,
    FAMILY,
    MATERIAL,
    OFFER,
    PART,
    PATTERN,
    PLATING,
    PRICE_STEP,
    SUPPLIER,
)
from inventory.store.queries.old_names import OldNames, old_codes, present_keys, retired
from inventory.store.schema.core import table

_PART, _DUTY, _PATTERN, _LOSS = table("part"), table("family_tool"), table("pattern"), table("material_loss")


def catalogue(connection: Connection) -> Catalogue:
    """Everything the shop knows by name as the sheets wrote it, except offers (see `offers`)."""
    duties, old = _duties(connection), OldNames(connection)
    platings = PLATING.named(
        connection, substitutes=names_of(connection, "plating_substitute", "plating_id", "substitute_id")
    )
    families = FAMILY.named(
        connection,
        barrels=BARREL.lists(connection, "family_id"),
        bushings=duties.get("bushings", {}),
        trimmer_pilots=duties.get("trimmer pilot", {}),
    )
    return Catalogue(
        parts=old.known("part", parts(connection)),
        platings=old.known("plating", platings),
        materials=old.known("material", MATERIAL.named(connection, losses=_losses(connection))),
        families=old.known("family", families),
        patterns=old.known("pattern", PATTERN.named(connection, bill=_bills(connection))),
        suppliers=old.known("supplier", SUPPLIER.named(connection)),
        retired=retired(connection),
        codes=old_codes(connection),
    )


def parts(connection: Connection, *, merged: bool = False) -> Mapping[str, Part]:
    """Every part by folded name and code, kind by kind. merged: those too that are others now."""
    found, end, part = {}, 2 + len(PART.columns), PART.build
    numbers: dict[int, str] = {}
    for detail in DETAILS.values():
        source = detail.source.join(_PART, detail.table.c.part_id == _PART.c.id)
        query: Select[Any] = select(_PART.c.id, _PART.c.key, *PART.columns, *detail.columns).select_from(
            source
        )
        if not merged:  # what was merged is the part it was merged into
            query = query.where(_PART.c.into_id.is_(None))
        of_kind = detail.build
        for row in connection.execute(query.order_by(_PART.c.id)).all():  # one by one costs a tenth more
            numbers[row[0]] = row[1]
            found[row[1]] = part(row[2:end], detail=of_kind(row[end:]))
    return Known(found, numbers=numbers)


def offers(connection: Connection, parts: Iterable[str] | None) -> Mapping[str, tuple[Offer, ...]]:
    """Offers with all their steps by folded part name; None: of every part."""
    c, width = OFFER.table.c, len(OFFER.columns)
    steps = PRICE_STEP.table
    query = (
        select(c.id, _PART.c.key, *OFFER.columns, *PRICE_STEP.columns)
        .select_from(OFFER.source.join(_PART, c.part_id == _PART.c.id).join(steps, steps.c.offer_id == c.id))
        .order_by(c.id, steps.c.from_packs)
    )
    if parts is not None:
        query = query.where(_PART.c.key.in_(present_keys(connection, parts)))
    found: dict[str, list[Offer]] = defaultdict(list)
    for _, group in groupby(connection.execute(query), itemgetter(0)):
        rows = list(group)
        priced = tuple(PRICE_STEP.build(row[2 + width :]) for row in rows)
        found[rows[0][1]].append(OFFER.build(rows[0][2 : 2 + width], steps=priced))
    return {key: tuple(several) for key, several in found.items()}


def _losses(connection: Connection) -> dict[int, dict[str, Fraction]]:
    c, fraction = _LOSS.c, CODECS["Fraction"].read
    losses = select(c.material_id, c.stage, c.share).order_by(c.material_id, c.position)
    pairs = ((material, (stage, fraction(share))) for material, stage, share in connection.execute(losses))
    return {material: dict(some) for material, some in grouped(pairs).items()}


def _duties(connection: Connection) -> dict[str, dict[int, tuple[str, ...]]]:
    """Names of tools by duty and family."""
    c = _DUTY.c
    query = select(c.duty, c.family_id, _PART.c.name).select_from(_DUTY.join(_PART))
    rows = connection.execute(query.order_by(c.family_id, c.duty, c.position))
    found: dict[str, dict[int, tuple[str, ...]]] = {}
    for (duty, family), names in grouped(((duty, family), name) for duty, family, name in rows).items():
        found.setdefault(duty, {})[family] = names
    return found


def _bills(connection: Connection) -> dict[int, tuple[BillLine, ...]]:
    """By hand, as far as a line names a part, a role or another pattern."""
    taken, c = _PATTERN.alias(), BILL_LINE.table.c
    source = BILL_LINE.source.outerjoin(_PART, c.part_id == _PART.c.id)
    named = func.coalesce(_PART.c.name, c.role, taken.c.name)
    query = (
        select(c.pattern_id, named, *BILL_LINE.columns)
        .select_from(source.outerjoin(taken, c.taken_id == taken.c.id))
        .order_by(c.pattern_id, c.position)
    )
    return grouped(
        (number, BILL_LINE.build(row, part=part)) for number, part, *row in connection.execute(query)
    )
