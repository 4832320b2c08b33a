"""What the plain model tells of its past: added up document by document, in plain loops."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date
from fractions import Fraction
from typing import Any

from .goods import PACK
from .plain import Model
from .things import Document

MATERIALS = {"ash blank": "ash", "holly blank": "holly"}


def facts(model: Model, since: date) -> Counter[tuple[object, ...]]:
    """Everything of the documents that stand and are of that day or later, under the names things have now."""
    found: Counter[tuple[object, ...]] = Counter()
    for one in model.standing():
        if one.day >= since:
            for (kind, *names), many in one.facts.items():
                found[kind, *(model.called(model.now(str(name))) for name in names)] += many
    return +found


def late(model: Model, since: date) -> tuple[int, dict[str, int]]:
    """Orders handed over whole, and by how many days those after their day were."""
    over, behind = 0, {}
    for name, wish in model.wishes.items():
        days = [one.day for one in model.standing() if one.facts["handed", name, "order"]]
        if days and days[-1] >= since and model.state(name) == "handed over":
            over += 1
            if (many := (days[-1] - wish.due).days) > 0:
                behind[name] = many
    return over, behind


def last_moved(model: Model) -> dict[str, date]:
    """The day anything of a part that is there came or went last; what a load brought came when its sheet says."""
    found: dict[str, date] = {}
    for one in model.standing():
        if not one.joined:
            for part, day in _moved(model, one):
                found[part] = max(day, found.get(part, day))
    return {part: day for part, day in found.items() if model.on_hand(part)}


def _moved(model: Model, one: Document) -> Iterator[tuple[str, date]]:
    """What came damaged came and went: a lot that is as it was before has moved all the same, and what was found to be
    used at once."""
    yield from ((model.now(part), one.day) for part in one.went)
    loaded = isinstance(one.content, tuple) and one.content[0] == "load"
    for cell in one.cells:
        if cell[0] == "lot":
            number = int(str(cell[1]))
            lot = model.lots[number]
            first = min(it.number for it in model.documents.values() if cell in it.cells)
            came = lot.received if loaded and first == one.number and lot.received else one.day
            yield model.now(lot.part), min(came, one.day)


def same(model: Model, told: dict[str, Any], since: date) -> None:
    """The tool's words of its past are the model's."""
    mine = facts(model, since)

    def of(kind: str) -> dict[tuple[object, ...], int]:
        return {tuple(rest): many for (first, *rest), many in mine.items() if first == kind}

    def coins(amount: Fraction) -> int:
        return int(amount * 100)

    total = told["total"]
    assert total["made"] == sum(of("made").values())
    assert total["spoiled"] == sum(of("spoiled").values())
    assert total["sold"] == sum(of("handed").values()) == told["unpriced"]
    spent = of("spent")
    assert coins(total["spent"]) == sum(spent.values()), (told["suppliers"], spent)
    assert coins(total["postage"]) == sum(many for (_, what), many in spent.items() if what == "postage")
    for one in told["suppliers"]:
        for what in ("goods", "postage"):
            assert coins(one[what]) == spent.get((one["supplier"] or "", what), 0), one
    assert {one["pattern"]: one["made"] for one in told["patterns"] if one["made"]} == {
        str(name): many for (name,), many in of("made").items()
    }
    begun = {MATERIALS[str(blank)]: many for (blank,), many in of("begun").items()}
    assert {(one["material"], one["stage"]): one["spoiled"] for one in told["spoiled"]} == {
        (MATERIALS[str(blank)], stage): many for (blank, stage), many in of("spoiled").items()
    }
    assert all(one["started"] == begun[one["material"]] for one in told["spoiled"])
    _same_prices(model, told, of("ordered"))
    over, behind = late(model, since)
    assert (told["orders"]["handed_over"], told["orders"]["on_time"]) == (over, over - len(behind))
    assert {one["order"]: one["days"] for one in told["orders"]["late"]} == behind


def _same_prices(model: Model, told: dict[str, Any], ordered: dict[tuple[object, ...], int]) -> None:
    """All are of one month: its mean price by what was ordered, of what cost anything."""
    first = {model.called(part): part for part in PACK}
    offers = {(part, supplier) for part, supplier, what in ordered if what == "cost"}
    assert {(one["part"], one["supplier"]) for one in told["prices"]} == offers
    for one in told["prices"]:
        key = one["part"], one["supplier"]
        ((_, price),) = (seen.values() for seen in one["seen"])
        mean = Fraction(ordered[*key, "cost"], ordered[*key, "packs"])
        assert one["ordered"] == ordered[*key, "lines"]
        assert abs(100 * price - mean) < Fraction(1, 50), (one, mean)
        assert 1000 * one["pack"] == PACK[first[one["part"]]]
