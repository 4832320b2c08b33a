"""Whatever comes of a session: nothing is lost or made up."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, Phase, given
from hypothesis import strategies as st
from searching import examples

from inventory.catalogue import STAGES, fold
from inventory.errors import Place
from inventory.ledger import Line, Proposal
from inventory.reports.filled import FilledBottle, FilledCount, FilledPiece, FilledUse
from inventory.store import Store, verify
from jobs import goods
from jobs.sessions import SATURDAY, booked, filled, here, piece, worked_out
from jobs.weekend_case import copied, on_hand, picture, rows_of

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
            blank, plating = (goods.THICK, "chrome") if name == "Knot" else (goods.OLIVE, "chrome")
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
        lots = book.lots_of(goods.GLUE)
        bottles += [
            FilledBottle(where, goods.GLUE, lot.id, g) for lot, g in zip(lots, said["glue"], strict=True)
        ]
    if "one" in said:
        bottles.append(FilledBottle(where, goods.FINISH, book.lots_of(goods.FINISH)[0].id, said["one"]))
    uses = [FilledUse(where, goods.STRIP, 1000 * said["strips"])] if "strips" in said else []
    counts = [FilledCount(where, goods.REFILL, 1000 * said["refills"])] if "refills" in said else []
    at = rows_of(store)
    order_of = {1: at["Reed"], 2: at["Tern"], 3: at["Knot"], 0: 0}
    number = {**order_of, 4: next(n for name, n in at.items() if name.startswith("stall"))}
    pieces = [piece(number[p.row], p.good, **_rest(p)) for p in pieces]
    return filled(pieces, bottles=tuple(bottles), uses=tuple(uses), counts=tuple(counts))


def _rest(one: FilledPiece) -> dict[str, Any]:
    names = ("lost", "tubes_saved", "kits_saved", "in_part", "pattern", "blank", "plating")
    return {name: getattr(one, name) for name in names}


@examples(
    10,
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
        assert made == sum(one[3].amount for one in done.tally.pieces)
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
    for kit in (goods.CHROME_KIT, goods.AVOCET_KIT, goods.GODWIT_KIT):
        found = sum(line.quantity for line in lines if line.part == kit and line.reason == "found")
        was = before[0][fold(kit)].on_hand
        drawn = sum(
            line.quantity
            for line in lines
            if line.part == kit and line.quantity < 0 and line.account == "shelf"
        )
        assert on_hand(store, kit) == was + found + drawn <= was
    in_part = sum(
        on_hand(store, f"{kit} in part") for kit in (goods.CHROME_KIT, goods.AVOCET_KIT, goods.GODWIT_KIT)
    )
    assert in_part == 1000 * sum(row.in_part for row in rows)
