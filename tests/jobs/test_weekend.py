"""After a session: nothing is lost or made up, whatever came of the pieces, and undo brings everything back."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from inventory.catalogue import STAGES, Piece, fold
from inventory.errors import AlreadyBooked, BadSheet, Place, Refused
from inventory.jobs.finished import made_for
from inventory.jobs.handing_over import hand_over
from inventory.jobs.order_check import check
from inventory.jobs.orders import standings
from inventory.jobs.planning import Ask
from inventory.jobs.promising import release
from inventory.jobs.session_sheet import FilledBottle, FilledCount, FilledPiece, FilledUse
from inventory.jobs.session_sheets import session_sheet
from inventory.jobs.weekend import session_of
from inventory.jobs.wishes import Wish, wish_of
from inventory.ledger import Line, Proposal
from inventory.ledger.claims import claims_of
from inventory.store import Store, open_store, verify
from jobs.goods import (
    AVOCET_KIT,
    BODY_TUBE,
    CAP_TUBE,
    CHROME_KIT,
    EPOXY,
    FINISH,
    GLUE,
    GODWIT_KIT,
    OLIVE,
    REFILL,
    STRIP,
    THICK,
    TUBE,
)
from jobs.sessions import (
    SATURDAY,
    booked,
    filled,
    here,
    opened,
    piece,
    planned,
    promised,
    worked_out,
)
from jobs.shop import DUE, order

REED, TERN, KNOT = (
    order("Reed", 5),
    order("Tern", 3, pattern="Avocet gloss", platings=("gunmetal",)),
    order("Knot", 2, pattern="Godwit plain", blank=THICK),
)
STALL = Wish("Turnstone gloss", ("chrome",), OLIVE, 2, SATURDAY)


@pytest.fixture(scope="session")
def template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store with three promised orders and stall pieces, all planned for Saturday: rows 1 to 4."""
    path = tmp_path_factory.mktemp("weekend") / "book.kitdrawer"
    with opened(path) as store:
        promised(store, REED, TERN, KNOT)
        planned(store, Ask((SATURDAY,), ("Reed", "Tern", "Knot"), (STALL,)))
    return path


@contextmanager
def copied(template: Path) -> Iterator[Store]:
    """A copy of it, gone afterwards."""
    with tempfile.TemporaryDirectory() as folder, open_store(shutil.copy(template, folder)) as store:
        yield store


@pytest.fixture
def store(template: Path, tmp_path: Path) -> Iterator[Store]:
    """A copy of it for one test."""
    with open_store(shutil.copy(template, tmp_path)) as found:
        yield found


def rows_of(store: Store) -> dict[str, int]:
    """The number of each order in the plan."""
    with store.reading() as read:
        return {row.order: at for at, row in enumerate(read.sessions()[0].rows, 1)}


def picture(store: Store) -> tuple[Any, ...]:
    """Balances, lots, claims, what is due, states of orders and sessions: everything an undo has to bring back."""
    with store.reading() as read:
        book = read.book()
        balances = {key: one for key, one in book.balances.items() if one.on_hand or one.to_buy}
        lots = {key: several for key, several in book.lots.items() if several}
        states = {key: one.state for key, one in book.orders.items() if not one.name.startswith("stall")}
        sessions = tuple((one.number, one.state) for one in read.sessions())
        key = [(c.order, c.part, c.account, c.quantity, c.lot, c.purchase) for c in book.claims]
        return balances, lots, sorted(key, key=str), book.due, states, sessions, set(book.to_count)


def on_hand(store: Store, part: str) -> int:
    """Thousandths on the shelf."""
    return here(store).book.balance(part).on_hand


# --- what every session keeps ---------------------------------------------------------------------------------------

STAGES_OF = {
    "Reed": ("cut", "drill", "glue", "trim", "turn", "finish", "assemble"),
    "Tern": ("cut", "drill", "glue", "trim", "turn", "assemble"),
    "Knot": ("cut", "turn", "assemble"),
}


@st.composite
def rows(draw: st.DrawFn) -> list[FilledPiece]:
    """Rows 1 to 4 of the plan in any order, some left empty, and pieces nobody planned."""
    done = []
    for row, name in ((1, "Reed"), (2, "Tern"), (3, "Knot"), (4, "Reed"), (0, "Reed"), (0, "Knot")):
        if not draw(st.booleans()) and row != 1:
            continue
        lost = draw(st.dictionaries(st.sampled_from(STAGES_OF[name]), st.integers(1, 2), max_size=3))
        late = lost.get("assemble", 0)
        kits = draw(st.integers(0, late))
        glued = sum(many for stage, many in lost.items() if STAGES.index(stage) >= STAGES.index("glue"))
        more: dict[str, Any] = {"kits_saved": kits, "in_part": draw(st.integers(0, late - kits))}
        if name != "Knot":
            more["tubes_saved"] = draw(st.integers(0, glued))
        if not row:
            blank, plating = (THICK, "chrome") if name == "Knot" else (OLIVE, "chrome")
            pattern = "Godwit plain" if name == "Knot" else "Turnstone gloss"
            more |= {"pattern": pattern, "blank": blank, "plating": plating}
        done.append(piece(row, draw(st.integers(0, 6)), lost=lost, **more))
    return list(draw(st.permutations(done)))


measured = st.fixed_dictionaries(
    {},
    optional={
        "glue": st.tuples(st.integers(12_000, 33_000), st.integers(12_000, 70_000)),
        "one": st.integers(12_000, 60_000),
        "strips": st.integers(0, 43),
        "refills": st.integers(0, 33),
    },
)


def sheet_of(store: Store, pieces: list[FilledPiece], said: dict[str, Any]) -> Any:
    """A sheet with these rows and measurements. Row numbers are those of the plan."""
    where = Place("saturday", "x", 2)
    book = here(store).book
    bottles = []
    if "glue" in said:
        lots = book.lots_of(GLUE)
        bottles += [FilledBottle(where, GLUE, lot.id, g) for lot, g in zip(lots, said["glue"], strict=True)]
    if "one" in said:
        bottles.append(FilledBottle(where, FINISH, book.lots_of(FINISH)[0].id, said["one"]))
    uses = [FilledUse(where, STRIP, 1000 * said["strips"])] if "strips" in said else []
    counts = [FilledCount(where, REFILL, 1000 * said["refills"])] if "refills" in said else []
    at = rows_of(store)
    order_of = {1: at["Reed"], 2: at["Tern"], 3: at["Knot"], 0: 0}
    number = {**order_of, 4: next(n for name, n in at.items() if name.startswith("stall"))}
    pieces = [piece(number[p.row], p.good, **_rest(p)) for p in pieces]
    return filled(pieces, bottles=tuple(bottles), uses=tuple(uses), counts=tuple(counts))


def _rest(one: FilledPiece) -> dict[str, Any]:
    names = ("lost", "tubes_saved", "kits_saved", "in_part", "pattern", "blank", "plating")
    return {name: getattr(one, name) for name in names}


@settings(
    max_examples=20,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
    phases=[Phase.explicit, Phase.generate],
)
@given(rows=rows(), said=measured)
def test_whatever_comes_of_a_session_the_book_agrees(
    template: Path, rows: list[FilledPiece], said: dict[str, Any]
) -> None:
    """In = out + left for every part and cent; good pieces cost what was used; undo is exact; again is the same."""
    with copied(template) as store:
        before = picture(store)
        done = booked(store, sheet_of(store, rows, said))
        assert verify(store) == ()
        _nothing_lost(before, picture(store), done.proposal.lines)
        shelf = shelf_of(done.proposal)
        made = sum(line.cost for line in shelf if line.reason == "made")
        assert made == -sum(line.cost for line in shelf if line.reason == "used")
        assert made == sum(cost for *_, cost in done.tally.pieces)
        _kits_saved_in_part_are_no_kits(before, store, done.proposal.lines, rows)
        store.commit(store.undo(on=SATURDAY))
        assert verify(store) == ()
        assert picture(store) == before
        again = worked_out(store, sheet_of(store, rows, said)).proposal
        assert (shelf_of(again), again.lots) == (shelf_of(done.proposal), done.proposal.lots)
        assert sorted(map(str, again.lines)) == sorted(map(str, done.proposal.lines))  # claims have no order
        assert again.fingerprint == done.proposal.fingerprint


def shelf_of(proposal: Proposal) -> list[Line]:
    """The lines on the shelf, in the order of the document."""
    return [line for line in proposal.lines if line.account == "shelf"]


def _nothing_lost(before: tuple[Any, ...], after: tuple[Any, ...], lines: Any) -> None:
    """Quantity and cost of every part: what was there, plus in, less out, is what is left, in lots and balances."""
    moved: dict[str, list[int]] = {}
    for line in lines:
        if line.account == "shelf":
            sums = moved.setdefault(fold(line.part), [0, 0])
            sums[0] += line.quantity
            sums[1] += line.cost
    for key in {*moved, *before[1], *after[1]}:
        was = [
            sum(x) for x in zip(*((lot.quantity, lot.cost) for lot in before[1].get(key, ())), strict=True)
        ]
        left = [
            sum(x) for x in zip(*((lot.quantity, lot.cost) for lot in after[1].get(key, ())), strict=True)
        ]
        was, left = was or [0, 0], left or [0, 0]
        assert [a + b for a, b in zip(was, moved.get(key, [0, 0]), strict=True)] == left
        assert (after[0][key].on_hand if key in after[0] else 0) == left[0]


def _kits_saved_in_part_are_no_kits(
    before: tuple[Any, ...], store: Store, lines: Any, rows: list[FilledPiece]
) -> None:
    """Whole kits only ever leave the shelf, but for those the book did not know of; parts of them are counted apart."""
    for kit in (CHROME_KIT, AVOCET_KIT, GODWIT_KIT):
        found = sum(line.quantity for line in lines if line.part == kit and line.reason == "found")
        was = before[0][fold(kit)].on_hand
        drawn = sum(
            line.quantity
            for line in lines
            if line.part == kit and line.quantity < 0 and line.account == "shelf"
        )
        assert on_hand(store, kit) == was + found + drawn <= was
    in_part = sum(on_hand(store, f"{kit} in part") for kit in (CHROME_KIT, AVOCET_KIT, GODWIT_KIT))
    assert in_part == 1000 * sum(row.in_part for row in rows)


# --- single facts ---------------------------------------------------------------------------------------------------


def test_a_piece_draws_what_it_had_eaten(store: Store) -> None:
    """Lost at drill: a blank, no tube; lost at turn: tube and glue, no kit; lost at assemble: the kit too."""
    at = rows_of(store)
    done = booked(store, filled([piece(at["Reed"], 3, lost={"drill": 1, "turn": 1, "assemble": 1})]))
    got = done.tally.quantity
    assert (got[fold(OLIVE)], got[fold(TUBE)], got[fold(CHROME_KIT)]) == (
        3000,
        5000,
        4000,
    )  # two pieces a blank
    assert (got[fold(STRIP)], got[fold(EPOXY)]) == (2000, 2000)
    assert set(done.tally.lost_cost) == {"drill", "turn", "assemble"}
    lost = sum(line.cost for line in done.proposal.lines if line.account == "shelf" and line.reason == "lost")
    assert sum(done.tally.lost_cost.values()) == -lost


def test_saved_tubes_and_kits_are_not_drawn(store: Store) -> None:
    """A kit saved whole stays on the shelf; one saved in part is gone and comes back as fittings at no cost."""
    at = rows_of(store)
    kits, tubes = on_hand(store, CHROME_KIT), on_hand(store, TUBE)
    lost = {"turn": 2, "assemble": 3}
    done = booked(store, filled([piece(at["Reed"], 2, lost=lost, tubes_saved=2, kits_saved=1, in_part=1)]))
    assert kits - on_hand(store, CHROME_KIT) == 4000  # two good, one lost, one in part
    assert tubes - on_hand(store, TUBE) == 5000
    assert done.tally.saved == [(f"{CHROME_KIT} in part", 1000)]
    assert sum(lot.cost for lot in here(store).book.lots_of(f"{CHROME_KIT} in part")) == 0


def test_spare_tubes_replace_those_of_a_kit(store: Store) -> None:
    """Lost at turn with spare tubes on the shelf: they are drawn, and the kit stays whole."""
    kits = on_hand(store, AVOCET_KIT)
    done = booked(store, filled([piece(rows_of(store)["Tern"], 2, lost={"turn": 1})]))
    assert kits - on_hand(store, AVOCET_KIT) == 2000
    assert (on_hand(store, CAP_TUBE), on_hand(store, BODY_TUBE), done.tally.saved) == (0, 0, [])


def test_without_spare_tubes_a_kit_is_robbed(store: Store) -> None:
    """The second piece lost has no spare tubes: its kit comes back as fittings, with the kit's cost."""
    before = here(store).book
    done = booked(store, filled([piece(rows_of(store)["Tern"], 1, lost={"turn": 2})]))
    name = f"{AVOCET_KIT} without its tubes"
    assert done.tally.saved == [(name, 1000)]
    after = here(store).book
    assert before.balance(AVOCET_KIT).on_hand - after.balance(AVOCET_KIT).on_hand == 2000
    (robbed,) = [line for line in done.proposal.lines if line.reason == "robbed"]
    (lot,) = after.lots_of(name)
    assert (lot.quantity, lot.cost) == (1000, -robbed.cost)
    assert (lot.cost > 0, on_hand(store, CAP_TUBE)) == (True, 0)


def test_what_the_session_takes_once(store: Store) -> None:
    """One pot of epoxy for both rows of Turnstones, shared by pieces; none for a session of stoppers."""
    at = rows_of(store)
    stall = next(n for name, n in at.items() if name.startswith("stall"))
    done = worked_out(store, filled([piece(at["Reed"], 5), piece(stall, 2)]))
    assert done.tally.quantity[fold(EPOXY)] == 2000
    assert fold(EPOXY) not in worked_out(store, filled([piece(at["Knot"], 2)])).tally.quantity


def test_orders_claim_what_was_made_for_them(store: Store) -> None:
    """Three of five good: three finished are set aside, and parts for the other two."""
    at = rows_of(store)
    booked(store, filled([piece(at["Reed"], 3), piece(at["Knot"], 2)]))
    shop = here(store)
    assert (made_for(shop, "Reed"), made_for(shop, "Knot")) == (3, 2)
    assert sum(c.quantity for c in claims_of(shop.book, "Reed") if c.part == CHROME_KIT) == 2000
    stands = {one.order.name: one.stands for one in standings(shop)}
    assert stands["Reed"] == "3 of 5 finished, all set aside"
    assert stands["Knot"] == "finished: hand it over"
    assert stands["Tern"] == "all set aside"


def test_stall_pieces_serve_whoever_asks(store: Store) -> None:
    """Free finished pieces: a new wish of the same kind finds them, and only what is beyond them is to make."""
    at = rows_of(store)
    stall = next(n for name, n in at.items() if name.startswith("stall"))
    booked(store, filled([piece(at["Reed"], 5), piece(stall, 2)]))
    shop = here(store)
    assert not any(one.order.name.startswith("stall") for one in standings(shop))
    report = check(shop, Wish("Turnstone gloss", ("chrome",), OLIVE, 2, DUE))
    assert (report.verdict, report.starts) == ("from the shelf", 0)
    assert report.why == ("2 finished ones are on the shelf.",)
    assert check(shop, Wish("Turnstone gloss", ("chrome",), OLIVE, 4, DUE)).starts >= 2
    assert check(shop, Wish("Turnstone gloss", ("rhodium",), OLIVE, 2, DUE)).starts >= 2


def test_a_customer_goes_before_the_stall(store: Store) -> None:
    """An order that came two short takes the stall's two of the same kind."""
    at = rows_of(store)
    stall = next(n for name, n in at.items() if name.startswith("stall"))
    booked(store, filled([piece(at["Reed"], 3), piece(stall, 2)]))
    assert made_for(here(store), "Reed") == 5


def test_finished_pieces_are_handed_over_first(store: Store) -> None:
    """At their exact cost; only what is missing draws parts."""
    done = booked(store, filled([piece(rows_of(store)["Reed"], 5)]))
    (made,) = done.tally.pieces
    shop = here(store)
    over = hand_over(shop, shop.book.orders["reed"])
    assert [(one.part, one.quantity, one.cost) for one in over.drawn] == [(made[1], 5000, made[3])]
    store.commit(over.proposal)
    assert (verify(store), on_hand(store, made[1])) == ((), 0)


def test_a_part_finished_order_draws_parts_for_the_rest(store: Store) -> None:
    """Three finished of five: three pieces and two bills."""
    done = booked(store, filled([piece(rows_of(store)["Reed"], 3)]))
    shop = here(store)
    over = hand_over(shop, shop.book.orders["reed"])
    drawn = {one.part: one.quantity for one in over.drawn}
    assert (drawn[done.tally.pieces[0][1]], drawn[CHROME_KIT], drawn[TUBE]) == (3000, 2000, 2000)
    assert over.drawn[0].cost == done.tally.pieces[0][3]


def test_others_who_wait_get_what_was_over(store: Store) -> None:
    """A row left empty at the stall gives its kits back, to an order that had them to buy."""
    many = on_hand(store, CHROME_KIT) // 1000
    promised(store, order("Late", many))
    short = here(store).book.balance(CHROME_KIT).to_buy
    assert short > 0
    done = booked(store, filled([piece(rows_of(store)["Reed"], 5)]))
    assert here(store).book.balance(CHROME_KIT).to_buy < short
    state = dict(done.proposal.order_states)
    assert [said for name, said in state.items() if name.startswith("stall")] == ["released"]


def test_more_than_the_book_holds_is_found(store: Store) -> None:
    """More kits went in than the book had: booked as found, and to be counted."""
    many = on_hand(store, GODWIT_KIT) // 1000 + 1
    done = booked(store, filled([piece(rows_of(store)["Knot"], many)]))
    assert done.tally.found == [THICK, GODWIT_KIT] or GODWIT_KIT in done.tally.found
    assert GODWIT_KIT in here(store).book.to_count
    assert any("were started" in said for said in done.announced)


def test_bottles_fuller_and_emptier_than_the_book(store: Store) -> None:
    """Each bottle holds afterwards what the scale said, whatever the other one said."""
    first, second = here(store).book.lots_of(GLUE)
    where = Place("saturday", "bottles", 2)
    grams = {first.id: 12_000 + 5250, second.id: 12_000 + 63_000}  # 5 ml and 60 ml at 1.05 g/ml
    bottles = tuple(FilledBottle(where, GLUE, lot, gross) for lot, gross in grams.items())
    done = booked(store, filled([piece(rows_of(store)["Reed"], 5)], bottles=bottles))
    assert {lot.id: lot.quantity for lot in here(store).book.lots_of(GLUE)} == {
        first.id: 5000,
        second.id: 60_000,
    }
    assert any("more in it than the book says" in said for said in done.announced)
    assert done.proposal.observed[0].used == 11_000


def test_finished_pieces_are_told_apart(store: Store) -> None:
    """Two added rows alike are one part with two lots, each at its own cost."""
    extra = {"pattern": "Turnstone gloss", "blank": OLIVE, "plating": "chrome"}
    done = booked(store, filled([piece(0, 2, **extra), piece(0, 3, lost={"turn": 1}, **extra)]))
    (part,) = {made[1] for made in done.tally.pieces}
    lots = here(store).book.lots_of(part)
    assert sorted((lot.quantity, lot.cost) for lot in lots) == sorted(
        (1000 * many, cost) for _, _, many, cost in done.tally.pieces
    )
    assert isinstance(here(store).catalogue.part(part).detail, Piece)


# --- what cannot be -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "more", "column", "said"),
    [
        ("Knot", {"good": 1, "lost": {"glue": 1}}, "lost at glue", "no such stage; it has cut, turn, assemble"),
        ("Reed", {"good": 1, "lost": {"cut": 1}, "tubes_saved": 1}, "tube sets saved", "only 0 lost after"),
        ("Reed", {"good": 1, "lost": {"turn": 1}, "in_part": 1}, "kits saved", "1 saved, but only 0 lost"),
        ("", {"good": 1, "blank": OLIVE}, "pattern", "need their pattern"),
        ("", {"good": 1, "pattern": "Turnstone gloss"}, "blank", "need their blank"),
        ("", {"good": 1, "pattern": "Turnstone gloss", "blank": OLIVE}, "pattern", "Which plating"),
        ("", {"good": 1, "pattern": "Turnstone gloss", "blank": OLIVE, "order": "Nobody"}, "order", "no promised"),
        ("9", {"good": 1}, "row", "rows 1 to 4"),
    ],
)  # fmt: skip
def test_rows_that_cannot_be(store: Store, name: str, more: dict[str, Any], column: str, said: str) -> None:
    """Each bad cell has its place and what would be right; nothing is booked."""
    number = {"": 0, "9": 9}.get(name) if name in ("", "9") else rows_of(store)[name]
    with pytest.raises(BadSheet) as caught:
        worked_out(store, filled([piece(number or 0, **more)]))
    (place,) = caught.value.where
    assert place.column == column
    assert said in place.problem


@pytest.mark.parametrize(
    ("part", "gross", "said"),
    [(GLUE, 11_000, "less than the empty bottle"), (GLUE, 900_000, "a full one holds"), (STRIP, 1, "empty weight")],
)  # fmt: skip
def test_weights_that_cannot_be(store: Store, part: str, gross: int, said: str) -> None:
    """Below the tare, above a full bottle, a thing without a tare: refused with its place."""
    lot = here(store).book.lots_of(part)[0].id
    bottle = FilledBottle(Place("saturday", "bottles", 2, "gross g"), part, lot, gross)
    with pytest.raises(BadSheet) as caught:
        worked_out(store, filled([piece(1, 1)], bottles=(bottle,)))
    assert said in caught.value.where[0].problem


def test_weighed_and_written_down_and_counted(store: Store) -> None:
    """One way for a part; a bottle the book has not; two counts that differ."""
    where = Place("saturday", "used", 2)
    lot = here(store).book.lots_of(GLUE)[0].id
    for more, said in (
        ({"bottles": (FilledBottle(where, GLUE, lot, 20_000),), "uses": (FilledUse(where, GLUE, 1),)}, "weighed too"),
        ({"uses": (FilledUse(where, STRIP, 1000),), "counts": (FilledCount(where, STRIP, 1000),)}, "Keep one"),
        ({"bottles": (FilledBottle(where, GLUE, 0, 20_000),)}, "no such bottle"),
        ({"counts": (FilledCount(where, STRIP, 1000, 2000),)}, "second count differs"),
    ):  # fmt: skip
        with pytest.raises(BadSheet) as caught:
            worked_out(store, filled([piece(1, 1)], **more))
        assert said in caught.value.where[0].problem


def test_a_row_said_twice_and_a_kit_by_name(store: Store) -> None:
    """The second is refused with its place; an added row may name its kit in place of the plating."""
    with pytest.raises(BadSheet) as caught:
        worked_out(store, filled([piece(1, 1), piece(1, 2)]))
    assert "stands there twice" in caught.value.where[0].problem
    extra = piece(0, 1, pattern="Turnstone gloss", blank=OLIVE, kit=CHROME_KIT)
    assert worked_out(store, filled([extra])).made[0].kit == CHROME_KIT


def test_an_empty_sheet(store: Store) -> None:
    """Nothing made, weighed or counted is nothing to book."""
    with pytest.raises(Refused, match="empty"):
        worked_out(store, filled([piece(1), piece(2)]))


def test_fewer_more_and_missing_rows_are_announced(store: Store) -> None:
    """Fewer and more than planned, a row left empty, a row that is not on the sheet."""
    at = rows_of(store)
    with store.reading() as read:
        starts = {row.order: row.starts for row in read.sessions()[0].rows}
    done = worked_out(
        store, filled([piece(at["Reed"], starts["Reed"] - 1), piece(at["Tern"], 9), piece(at["Knot"])])
    )
    told = " ".join(done.announced)
    assert f"Reed: {starts['Reed'] - 1} of {starts['Reed']} planned pieces were started" in told
    assert f"Tern: 9 were started, {starts['Tern']} planned." in told
    assert "Knot: nothing written, taken as not made." in told
    assert "is not on the sheet: taken as not made." in told


def test_which_session_a_sheet_is_of(store: Store) -> None:
    """Another book's, an unknown one, a booked one, a dropped one are refused; without its tab the only one counts."""
    with store.reading() as read:
        sessions, mark = read.sessions(), read.mark()
    assert session_of(sessions, filled([], mark=mark), mark).number == 1
    assert session_of(sessions, filled([], session=0), mark).number == 1
    for sheet, said in (
        (filled([], mark="other"), "another book"),
        (filled([], session=8), "no session number 8"),
    ):
        with pytest.raises(Refused, match=said):
            session_of(sessions, sheet, mark)
    planned(store, Ask((SATURDAY,), ("Reed",), anew=True))
    with store.reading() as read:
        sessions = read.sessions()
    with pytest.raises(Refused, match="older plan") as caught:
        session_of(sessions, filled([]), mark)
    assert "2026-11-28 a" in caught.value.hint
    booked(store, filled([piece(1, 5)], session=2))
    with store.reading() as read:
        sessions = read.sessions()
    with pytest.raises(AlreadyBooked):
        session_of(sessions, filled([], session=2), mark)
    with pytest.raises(Refused, match="does not say which"):
        session_of(sessions, filled([], session=0), mark)


def test_rows_keep_their_numbers(store: Store) -> None:
    """An order handed over or released before the sheet is made leaves the others' numbers alone."""
    at = rows_of(store)
    shop = here(store)
    store.commit(hand_over(shop, shop.book.orders["reed"]).proposal)
    shop = here(store)
    store.commit(release(shop, shop.book.orders["tern"]))
    with store.reading() as read:
        sheet = session_sheet(here(store), read.sessions()[0], read.mark(), read.learned())
    assert {row.order: row.row for row in sheet.pieces} == {
        name: row for name, row in at.items() if name not in ("Reed", "Tern")
    }
    with pytest.raises(BadSheet) as caught:
        worked_out(store, filled([piece(at["Reed"], 1)]))
    assert "was handed over" in caught.value.where[0].problem
    done = booked(store, filled([piece(at["Tern"], 3)]))
    assert here(store).book.balance(done.tally.pieces[0][1]).free == 3000
    assert verify(store) == ()


def test_the_wish_of_an_undone_plan_is_nobodys(store: Store) -> None:
    """Undoing the plan leaves the stall's wish in the book; `orders` shows it only with everything."""
    store.commit(store.undo(on=SATURDAY))
    shop = here(store)
    stalls = [one for one in shop.book.orders.values() if one.name.startswith("stall")]
    assert [one.state for one in stalls] == ["wish"]
    assert {one.order.name for one in standings(shop)} == {"Reed", "Tern", "Knot"}
    assert len(standings(shop, everything=True)) == 4
    assert wish_of(stalls[0]).count == 2
