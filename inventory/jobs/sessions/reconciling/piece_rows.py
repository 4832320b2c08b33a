"""The rows of a filled session sheet, checked: what became of which pieces."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from inventory.catalogue import fold
from inventory.errors import BadSheet, KitdrawerError, Place
from inventory.jobs.orders.blank_choice import never_of
from inventory.jobs.orders.needs import pick_kit
from inventory.jobs.orders.requests import OrderRequest, ResolvedRequest, resolve
from inventory.jobs.orders.reserving import promised_request, without_claims
from inventory.ledger.sessions import Outcome, Planned, Session, lost_from
from inventory.ledger.shop import Shop
from inventory.making.bom import stages_of, whole_bill
from inventory.reports.filled import FilledPiece, FilledSession


@dataclass(frozen=True, slots=True)
class Made:
    """One row: what came of it, and what it was made from. planned: pieces started by the plan, 0 for added rows."""

    outcome: Outcome
    resolved: ResolvedRequest
    kit: str
    planned: int
    where: Place


@dataclass(slots=True)
class Rows:
    """All rows that say anything, and what the person should know of how they were read."""

    made: list[Made]
    announced: list[str]
    bad: list[Place]


def rows_of(shop: Shop, session: Session, filled: FilledSession) -> Rows:
    """Every filled row as an outcome. Raises BadSheet naming every bad cell at once."""
    done = Rows([], [], [])
    seen: dict[int, FilledPiece] = {}
    for piece in filled.pieces:
        if piece.row and piece.row in seen:
            done.bad.append(
                _bad(piece, "row", str(piece.row), f"Row {piece.row} stands there twice. Keep one.")
            )
            continue
        seen[piece.row] = piece
        if piece.good is None and not any(piece.lost.values()):
            if piece.row:
                _not_made(session, piece, done)
            continue
        made = _planned(shop, session, piece, done) if piece.row else _added(shop, session, piece, done)
        if made is not None and _sound(shop, piece, made, done):
            done.made.append(made)
    for number, row in enumerate(session.rows, 1):
        if number not in seen and filled.pieces:
            done.announced.append(f"{row.order} is not on the sheet: taken as not made.")
    if done.bad:
        many = len(done.bad)
        raise BadSheet(
            f"{many} cells of the session sheet cannot be right."
            if many > 1
            else "One cell of the session sheet cannot be right.",
            hint="Correct these cells and book the sheet again; nothing was booked.",
            where=tuple(done.bad),
        )
    return done


def _bad(piece: FilledPiece, column: str, said: str, problem: str) -> Place:
    return replace(piece.where, column=column, said=said, problem=problem)


def _not_made(session: Session, piece: FilledPiece, done: Rows) -> None:
    if piece.row <= len(session.rows):
        done.announced.append(f"{session.rows[piece.row - 1].order}: nothing written, taken as not made.")


def _planned(shop: Shop, session: Session, piece: FilledPiece, done: Rows) -> Made | None:
    if piece.row > len(session.rows):
        said = f"The plan has rows 1 to {len(session.rows)}. For other pieces leave the number empty."
        done.bad.append(_bad(piece, "row", str(piece.row), said))
        return None
    row = session.rows[piece.row - 1]
    order = shop.book.orders[fold(row.order)]
    if order.state == "handed over":
        said = "The order was handed over, and what went into it was used then. Leave the row empty."
        done.bad.append(_bad(piece, "order", row.order, said))
        return None
    if piece.blank and (never := never_of(shop, order, piece.blank)):
        said = f"{never} Leave the row empty and write it as one of its own, or change the order first."
        done.bad.append(_bad(piece, "blank", piece.blank, said))
        return None
    request = replace(promised_request(shop, order), blank=piece.blank or order.blank)
    resolved = resolve(shop.catalogue, request, shop.today)
    if fold(resolved.blank.name) != fold(order.blank):
        done.announced.append(f"{row.order}: of {resolved.blank.name}, not {order.blank}; it would do too.")
    outcome = _outcome(piece, row.order, resolved, row.kit)
    _compare(outcome, row, done)
    return Made(outcome, resolved, row.kit, row.starts, piece.where)


def _outcome(piece: FilledPiece, order: str, resolved: ResolvedRequest, kit: str) -> Outcome:
    return Outcome(
        order,
        resolved.pattern.name,
        kit,
        resolved.blank.name,
        piece.good or 0,
        {stage: many for stage, many in piece.lost.items() if many},
        resolved.request.refill,
        resolved.request.extra_diameter,
        piece.tubes_saved,
        piece.kits_saved,
        piece.in_part,
    )


def _compare(outcome: Outcome, row: Planned, done: Rows) -> None:
    if outcome.started < row.starts:
        done.announced.append(
            f"{row.order}: {outcome.started} of {row.starts} planned pieces were started; the rest draws nothing."
        )
    elif outcome.started > row.starts:
        done.announced.append(f"{row.order}: {outcome.started} were started, {row.starts} planned.")


def _added(shop: Shop, session: Session, piece: FilledPiece, done: Rows) -> Made | None:
    """Pieces nobody planned: pattern, plating (or kit) and blank must be said."""
    for column, said in (("pattern", piece.pattern), ("blank", piece.blank)):
        if not said:
            done.bad.append(_bad(piece, column, "", f"Pieces nobody planned need their {column}."))
            return None
    order = shop.book.orders.get(fold(piece.order)) if piece.order else None
    if piece.order and (order is None or order.state != "promised"):
        done.bad.append(
            _bad(piece, "order", piece.order, "That is no promised order. Leave it empty for the stall.")
        )
        return None
    started = (piece.good or 0) + sum(piece.lost.values())
    platings = (piece.plating,) if piece.plating else ()
    try:
        if piece.kit:
            detail = shop.catalogue.part(piece.kit).detail
            platings = (getattr(detail, "plating", piece.plating),)
        request = OrderRequest(piece.pattern, platings, piece.blank, max(started, 1), shop.today)
        resolved = resolve(shop.catalogue, request, shop.today)
        kit = pick_kit(without_claims(shop, order.name) if order else shop, resolved.kits[0][1])
    except KitdrawerError as error:
        done.bad.append(_bad(piece, "pattern", piece.pattern, f"{error.message} {error.hint}".strip()))
        return None
    if session.number:  # one that was planned before
        done.announced.append(f"{resolved.pattern.name} from {kit.name}: not planned; taken as written.")
    return Made(
        _outcome(piece, order.name if order else "", resolved, kit.name), resolved, kit.name, 0, piece.where
    )


def _sound(shop: Shop, piece: FilledPiece, made: Made, done: Rows) -> bool:
    """Losses at stages the pattern has, and no more saved than lost."""
    before = len(done.bad)
    stages = stages_of(shop.catalogue, made.resolved.pattern)
    for stage, many in piece.lost.items():
        if many and stage not in stages:
            known = ", ".join(stages)
            said = f"{made.resolved.pattern.name} has no such stage; it has {known}."
            done.bad.append(_bad(piece, f"spoiled at {stage}", str(many), said))
    _no_more(piece, "tube sets salvaged", piece.tubes_saved, lost_from("glue", piece.lost), done)
    at_kit = next(
        (
            line.stage
            for line in whole_bill(shop.catalogue, made.resolved.pattern)
            if fold(line.part) == "the kit"
        ),
        "assemble",
    )
    _no_more(piece, "kits salvaged", piece.kits_saved + piece.in_part, lost_from(at_kit, piece.lost), done)
    return len(done.bad) == before


def _no_more(piece: FilledPiece, column: str, saved: int, lost: int, done: Rows) -> None:
    if saved > lost:
        said = f"{saved} salvaged, but only {lost} spoiled after they went in."
        done.bad.append(_bad(piece, column, str(saved), said))


def orders_of(made: Iterable[Made]) -> tuple[str, ...]:
    """The orders pieces were made for, each once."""
    return tuple(dict.fromkeys(one.outcome.order for one in made if one.outcome.order))
