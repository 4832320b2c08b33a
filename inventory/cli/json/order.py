"""The answer to `can-take` as JSON. Its fields are promises (see guide/reference.md)."""

from __future__ import annotations

from decimal import Decimal

from inventory.catalogue.safety import Safety
from inventory.cli.json.exact import Exact, Value
from inventory.jobs.orders.money.quoting import quote
from inventory.jobs.orders.order_check import OrderReport
from inventory.jobs.orders.usual_values import usual_values
from inventory.jobs.sessions.safety import making_safety
from inventory.ledger.shop import Shop
from inventory.making.blanks.fitting import BlankCut
from inventory.reports.leaves import TooFewLeft


def order_json(shop: Shop, report: OrderReport) -> dict[str, Value]:
    """Every figure of the report, quantities in the parts' units, money in the shop's coin."""
    exact = Exact(shop.currency.exponent)
    request = report.resolved.request
    safety = making_safety(shop, [(report.resolved, report.plan)], selling=True)
    return {
        "verdict": report.verdict,
        "order": request.order or None,
        "pattern": report.resolved.pattern.name,
        "plating": report.plan.plating,
        "blank": report.resolved.blank.name,
        "blank_because": report.blank_because or None,
        "blank_wish": report.resolved.wish.words or None,
        "blanks_that_would_do": [blank.name for blank in report.resolved.wish.blanks],
        "count": request.count,
        "due": request.due,
        "confidence": round(request.confidence, 9),
        "chance": round(report.joint.probability, 9),
        "chance_after_buying": round(report.joint_after_buying.probability, 9),
        "odds": round(report.joint.probability, 9),
        "odds_after_buying": round(report.joint_after_buying.probability, 9),
        "odds_by": report.joint.how,
        "weakest": _weakest(shop, report),
        "earliest": report.earliest,
        "starts": report.starts,
        "starts_chance": round(report.plan.evening.probability, 6),
        "starts_odds": round(report.plan.evening.probability, 6),
        "parts": [
            {
                "part": need.part.name,
                "stage": need.stage,
                "unit": need.part.unit,
                "need": exact.amount(need.need),
                "free": exact.amount(need.all_free),
                "short": exact.amount(need.short),
            }
            for need in report.plan.parts
        ],
        "blanks": [_cut(cut, report.resolved.blank.name) for cut in report.plan.blanks.cuts],
        "buy": _buy(report, exact),
        "postage": exact.money(report.sourcing.postage),
        "lay_out": [
            {"what": one.what, "part": one.part, "there": one.there, "note": one.note}
            for one in report.setup_list
        ],
        "currency": shop.currency.code,
        "quote": _quote(report, exact),
        "time": _time(report),
        "cost_per_piece": exact.money(report.price.materials if report.price.known else None),
        "labour_per_piece": exact.money(report.price.labour),
        "lowest_price": exact.money(report.price.lowest if report.price.known else None),
        "unpriced": list(report.price.unpriced),
        "cautions": [*report.cautions, *safety.sentences],
        "safety": safety_json(safety),
        "why": list(report.why),
        "leaves": [_leaves(one, exact) for one in report.leaves],
        "usual": [{"of": one.of, "what": list(one.what)} for one in usual_values(shop, [report])],
    }


def _leaves(one: TooFewLeft, exact: Exact) -> Value:
    return {
        "part": one.part.name,
        "left": exact.amount(one.left),
        "asked": round(one.asked, 3),
        "parcel": one.parcel,
        "chance": round(one.chance, 6),
        "chance_without": round(one.without, 6),
        "pattern": one.pattern,
        "price": exact.money(one.price),
    }


def _time(report: OrderReport) -> Value:
    """Minutes it takes and there are, the earliest day by the hours; null where nobody said what hours there are."""
    left = report.time
    if left is None:
        return None
    return {"needed": left.needed, "before": left.before, "there": left.there, "ready_by": left.ready}


def _quote(report: OrderReport, exact: Exact) -> Value:
    """What the customer may be told; null where there is no price."""
    found = quote(report)
    if found is None:
        return None
    return {
        "each": exact.money(found.each),
        "together": exact.money(found.together),
        "postage": exact.money(found.postage),
        "with_postage": exact.money(found.with_postage),
        "goods": exact.money(found.goods),
        "agreed": found.agreed,
        "proven": found.proven,
    }


def safety_json(safety: Safety) -> dict[str, Value]:
    """The kinds of danger, each statement with its moment and source, and supplies nobody has data of."""
    return {
        "kinds": list(safety.kinds),
        "statements": [
            {"moment": one.moment, "says": one.says, "of": list(one.of), "source": one.source}
            for one in safety.statements
        ],
        "no_hazards_on_file": list(safety.unknown),
    }


def _weakest(shop: Shop, report: OrderReport) -> str | None:
    key = report.joint.weakest
    return shop.catalogue.parts[key].name if isinstance(key, str) and key in shop.catalogue.parts else None


def _cut(cut: BlankCut, part: str) -> dict[str, Value]:
    offcut = None if cut.offcut is None else round(Decimal(cut.offcut.numerator) / cut.offcut.denominator, 2)
    return {
        "part": part,
        "lot": cut.name or None,
        "blanks": cut.blanks,
        "pieces_each": cut.pieces,
        "offcut_mm": offcut,
    }


def _buy(report: OrderReport, exact: Exact) -> list[Value]:
    rows: list[Value] = [
        {
            "part": one.part.name,
            "supplier": one.supplier,
            "packs": one.packs,
            "pack": exact.amount(one.pack),
            "cost": exact.money(one.cost),
            "arrives": one.arrives,
        }
        for one in report.sourcing.buy
    ]
    rows += [
        {"part": part.name, "due_in": exact.amount(quantity), "arrives": day}
        for part, quantity, day in report.sourcing.due
    ]
    return rows
