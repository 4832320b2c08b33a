"""One evening's pieces in one line: a session that is planned, filled in and booked by one and the same document."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from inventory.catalogue import Blank, Catalogue, Order, Part, Pattern, find, fold
from inventory.errors import BadInput, BadSheet, KitdrawerError, Place, Refused, UnknownName
from inventory.jobs.orders.blank_choice import never_of
from inventory.jobs.orders.order_check import parts_involved
from inventory.jobs.orders.requests import OrderRequest
from inventory.jobs.orders.reserving import promised_request
from inventory.jobs.sessions.reconciling.booking import SessionBooking
from inventory.ledger import Proposal
from inventory.ledger.claims import claims_of
from inventory.ledger.sessions import Planned, Session
from inventory.ledger.shop import Shop
from inventory.making.bom import stages_of
from inventory.measures import listed
from inventory.reports.filled import FilledPiece, FilledSession

HERE = Place()


@dataclass(frozen=True, slots=True)
class MadeTonight:
    """What was made: good pieces, and spoiled ones by stage. order: a promised one they are for, or empty."""

    pattern: str = ""
    plating: str = ""
    blank: str = ""
    good: int = 1
    spoiled: Mapping[str, int] = field(default_factory=dict)
    order: str = ""

    @property
    def started(self) -> int:
        """Pieces begun."""
        return self.good + sum(self.spoiled.values())


def evening(shop: Shop, said: MadeTonight) -> tuple[Session, FilledSession]:
    """The session and its filled sheet. Raises BadInput, UnknownName or Refused for what cannot be."""
    _check_begun(said)
    return _for_order(shop, said) if said.order else _for_the_shelf(shop, said)


def one_evening(shop: Shop, several: Sequence[tuple[Place, MadeTonight]]) -> tuple[Session, FilledSession]:
    """Several things made on one evening as one session: what a session takes once is taken once.

    Raises BadSheet with the place of each that cannot be.
    """
    rows: list[Planned] = []
    pieces: list[FilledPiece] = []
    bad: list[Place] = []
    for where, said in several:
        try:
            if said.order and fold(said.order) in {fold(row.order) for row in rows}:
                raise BadInput(f"“{said.order}” was made before.", hint="Add the two up in one line.")
            session, filled = evening(shop, said)
        except KitdrawerError as error:
            bad.append(replace(where, problem=f"{error.message} {error.hint}".strip()))
            continue
        rows += session.rows
        (piece,) = filled.pieces
        pieces.append(replace(piece, where=where, row=len(rows) if session.rows else 0))
    if bad:
        raise BadSheet("Not all of it can have been made.", where=bad)
    return _session(shop, tuple(rows)), FilledSession("", 0, 0, tuple(pieces))


def parts_touched(shop: Shop, said: MadeTonight) -> set[str]:
    """The folded names of every part an evening may look at, so that only their lots and offers are read.

    shop: without lots. Raises what `evening` does, and what `resolve` does where the pieces cannot be made.
    """
    _check_begun(said)
    if not said.order:
        (piece,) = _for_the_shelf(shop, said)[1].pieces
        platings = (piece.plating,) if piece.plating else ()
        request = OrderRequest(piece.pattern, platings, piece.blank, 1, shop.today)
        return set(parts_involved(shop.catalogue, request, shop.today))
    order = find(shop.book.orders, "order", said.order)
    blank = _check_order(shop, order, said)
    request = promised_request(shop, order)
    involved = parts_involved(shop.catalogue, request, shop.today)
    if blank:
        involved |= parts_involved(shop.catalogue, replace(request, blank=blank), shop.today)
    return {*involved, *(fold(claim.part) for claim in claims_of(shop.book, order.name))}


def _check_begun(said: MadeTonight) -> None:
    if not said.started:
        raise BadInput("Nothing was made.", hint="Say --count, or --spoiled STAGE=N for what went wrong.")


def _for_order(shop: Shop, said: MadeTonight) -> tuple[Session, FilledSession]:
    from inventory.jobs.sessions.planning import promised_row  # a piece for the shelf is of no plan

    order = find(shop.book.orders, "order", said.order)
    blank = _check_order(shop, order, said)
    _check_stages(shop, shop.catalogue.pattern(order.pattern), said.spoiled)
    left = promised_row(shop, order)
    if said.good > left.wanted:
        more = f"{left.wanted} short of all its pieces, not {said.good}" if left.wanted else "finished"
        raise Refused(
            f"“{order.name}” is {more}.", hint="Book what is for the order, and the rest without --order."
        )
    row = Planned(order.name, left.report.plan.kit.name, said.started)
    piece = FilledPiece(HERE, 1, said.good, said.spoiled, order=order.name, blank=blank)
    return _session(shop, (row,)), _filled(piece)


def _check_order(shop: Shop, order: Order, said: MadeTonight) -> str:
    """Refuse what cannot be made for it now; the blank that was taken, empty where nobody said."""
    blank = blank_called(shop.catalogue, said.blank).name if said.blank and order.blanks else ""
    if blank and (never := never_of(shop, order, blank)):
        raise Refused(never, hint="Leave --order out for a piece for the shelf, or change the order first.")
    another = bool(said.pattern) and fold(said.pattern) != fold(order.pattern)
    if another or said.plating or (said.blank and not order.blanks):
        raise BadInput(
            f"“{order.name}” says what is made for it: {order.pattern}, {order.blank}.",
            hint="Say --order alone, or leave it out for a piece for the shelf.",
        )
    if order.state != "promised":
        what = "not promised yet" if order.state == "wish" else order.state
        raise Refused(f"“{order.name}” is {what}.", hint=f"First: kitdrawer promise {order.name}")
    return blank


def _for_the_shelf(shop: Shop, said: MadeTonight) -> tuple[Session, FilledSession]:
    if not said.pattern:
        raise BadInput("What was made?", hint='kitdrawer made "Dunlin pen" --blank walnut --plating chrome')
    pattern = shop.catalogue.pattern(said.pattern)
    _check_stages(shop, pattern, said.spoiled)
    blank = blank_called(shop.catalogue, said.blank)
    piece = FilledPiece(
        HERE, 0, said.good, said.spoiled, pattern=pattern.name, plating=said.plating, blank=blank.name
    )
    return _session(shop, ()), _filled(piece)


def blank_called(catalogue: Catalogue, text: str) -> Part:
    """The blank of that name: `walnut blank`, for which `walnut` does, or the only one that has all these words.

    Raises BadInput where several have, or none was said; UnknownName where none has.
    """
    blanks = [part for part in catalogue.parts.values() if isinstance(part.detail, Blank)]
    if not text:
        raise BadInput("Of which blank?", hint="Say --blank, as --blank walnut.")
    for name in (text, f"{text} blank"):
        for part in blanks:
            if fold(part.name) == fold(name):
                return part
    words = set(fold(text).split())
    found = [part for part in blanks if words <= set(fold(part.name).replace(",", " ").split())]
    if len(found) == 1:
        return found[0]
    if found:
        names = listed([f"“{part.name}”" for part in found])
        raise BadInput(f"“{text}” can be {names}.", hint="Write the whole name.")
    raise UnknownName("blank", text, [part.name for part in blanks])


def _check_stages(shop: Shop, pattern: Pattern, spoiled: Mapping[str, int]) -> None:
    stages = stages_of(shop.catalogue, pattern)
    for stage in spoiled:
        if stage not in stages:
            raise BadInput(
                f"{pattern.name} has no stage “{stage}”.", hint=f"Its stages are {', '.join(stages)}."
            )


def _session(shop: Shop, rows: tuple[Planned, ...]) -> Session:
    return Session(f"{shop.today} made", shop.today, rows, "booked")


def _filled(piece: FilledPiece) -> FilledSession:
    return FilledSession("", 0, 0, (piece,))


def as_made(booking: SessionBooking) -> Proposal:
    """The document that plans the session and books it. It has no fingerprint: the same is made again tomorrow."""
    (one,) = booking.made
    outcome = one.outcome
    good = f"{outcome.good} × {outcome.pattern}"
    spoiled = sum(outcome.lost.values())
    what = (
        f"{good}, {spoiled} spoiled" if outcome.good and spoiled else f"{spoiled} × {outcome.pattern} spoiled"
    )
    title = f"Made {good if not spoiled else what}" if outcome.good else f"Tried: {what}"
    return replace(
        booking.proposal,
        kind="made",
        title=f"{title}{f' for {outcome.order}' if outcome.order else ''}",
        fingerprint="",
        session=None,
        session_states=(),
        sessions=(booking.session,),
    )
