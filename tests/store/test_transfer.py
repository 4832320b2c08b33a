"""A book carried from a file to a server and back is the same book, row by row, or it is not there at all."""

from __future__ import annotations

import threading
from pathlib import Path

import pytest
from sqlalchemy import Connection, create_engine, inspect, make_url, text

from inventory.errors import BadInput, NoStore, StoreTrouble
from inventory.store import Store, begin, carry, open_store, verify
from inventory.store.check.structure import GUARDED
from inventory.store.copies.transfer import Digest, digests
from inventory.store.mapping.bulk import put

from .shop import FIRST, KIT, bought, claimed, document, promise, receipt


@pytest.fixture
def rich(store: Store) -> Store:
    """A store with something promised, bought, and taken back."""
    store.commit(promise(FIRST, claimed(FIRST, 1_000), to_count=(KIT,)))
    store.commit(bought(KIT, 1_000, 440))
    store.commit(receipt(KIT, 1_000, 450))
    store.commit(store.undo(on=receipt(KIT, 1, 1).on))
    return store


@pytest.fixture(params=["file", "server"])
def target(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """Where nothing is yet."""
    if request.param == "file":
        return str(tmp_path / "carried")
    return str(request.getfixturevalue("new_database")())


def held(store: Store) -> dict[str, Digest]:
    """What a store holds."""
    with store.reading() as read:
        return digests(read.connection)


def test_every_row_is_the_same(rich: Store, target: str) -> None:
    """Every table equal, the book and catalogue as read equal, the proof passed, and what came before untouched."""
    before, steps = held(rich), list[tuple[int, int]]()
    carried = carry(rich, target, lambda *step: steps.append(step))
    with open_store(target) as there:
        assert held(there) == before == held(rich)
        assert verify(there) == ()
        with there.reading() as one, rich.reading() as other:
            assert one.book() == other.book()
            assert one.catalogue() == other.catalogue()
            assert one.offers() == other.offers()
    rows = sum(one.rows for one in before.values())
    assert (carried.rows, carried.tables, steps[-1]) == (rows, len(before), (rows, rows))
    assert all(
        before[name].rows for name in ("movement", "lot", "claim_balance", "customer_order", "price_step")
    )


def test_there_and_back(rich: Store, database: str, tmp_path: Path) -> None:
    """From a file or a server to a file, a server and a file: nothing is lost on the way."""
    carry(rich, tmp_path / "one")
    with open_store(tmp_path / "one") as one:
        carry(one, database)
    with open_store(database) as two:
        carry(two, tmp_path / "three")
    with open_store(tmp_path / "three") as three:
        assert held(three) == held(rich)


def test_the_book_goes_on_there(rich: Store, target: str) -> None:
    """The next document gets the next number at the new place; what was written stays guarded there."""
    carry(rich, target)
    with open_store(target) as there:
        assert there.commit(document()) == rich.commit(document())
        assert held(there)["document"].rows == held(rich)["document"].rows
        for name in (one for one in GUARDED if held(there)[one].rows):
            with there.engine.connect() as connection, pytest.raises(Exception, match="never changed"):
                connection.execute(text(f"DELETE FROM {name}"))


def test_no_sequence_to_be_set(database: str) -> None:
    """The store hands out its numbers itself: on a server there is no sequence that a copy could leave behind."""
    with begin(database, "EUR") as store:
        assert inspect(store.engine).get_sequence_names() == []


def test_one_moment(rich: Store, target: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is booked while the book is carried stays behind as a whole."""
    before = held(rich)

    def slow(connection: Connection, into: object, rows: object) -> None:
        if str(into) == "document":
            with open_store(rich.where.file or rich.engine.url.render_as_string(False)) as other:
                other.commit(receipt(KIT, 5_000, 450))
        put(connection, into, rows)  # type: ignore[arg-type]  # handed on as they came

    monkeypatch.setattr("inventory.store.copies.transfer.put", slow)
    carry(rich, target)
    with open_store(target) as there:
        assert held(there) == before != held(rich)
        assert verify(there) == ()


@pytest.mark.parametrize("table", ["shop", "order_step"])
def test_a_broken_carry_leaves_nothing(
    rich: Store, target: str, table: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Stopped in the middle, there is no store at the new place, and a second try succeeds."""

    def fails(connection: Connection, into: object, rows: object) -> None:
        if str(into) == table:
            raise KeyboardInterrupt
        put(connection, into, rows)  # type: ignore[arg-type]  # handed on as they came

    monkeypatch.setattr("inventory.store.copies.transfer.put", fails)
    with pytest.raises(KeyboardInterrupt):
        carry(rich, target)
    with pytest.raises(NoStore):
        open_store(target)
    monkeypatch.undo()
    carry(rich, target)


def test_a_row_lost_on_the_way_is_found(rich: Store, target: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A target that does not hold what was sent is refused with the table's name, and gone."""

    def forgets(connection: Connection, into: object, rows: list[object]) -> None:
        put(connection, into, rows[1:] if str(into) == "price_step" else rows)  # type: ignore[arg-type]  # as they came

    monkeypatch.setattr("inventory.store.copies.transfer.put", forgets)
    with pytest.raises(StoreTrouble, match="not what was sent: price_step differ"):
        carry(rich, target)
    with pytest.raises(NoStore):
        open_store(target)


def test_an_unsound_book_is_not_carried(rich: Store, target: str) -> None:
    """A book that does not add up is to be mended first."""
    with rich.writing() as connection:
        connection.execute(text("UPDATE part_balance SET on_hand = on_hand + 1000"))
    with pytest.raises(StoreTrouble, match=r"not sound: .*is kept as") as caught:
        carry(rich, target)
    assert "verify" in caught.value.hint
    with pytest.raises(NoStore):
        open_store(target)


def test_only_where_nothing_is(rich: Store, target: str) -> None:
    """A book is never carried over another, nor onto itself."""
    begin(target, "GBP").close()
    for place in (target, str(rich.where.file or rich.engine.url.render_as_string(False))):
        with pytest.raises(StoreTrouble, match="There is already something at"):
            carry(rich, place)
    with open_store(target) as there, there.reading() as read:
        assert (read.currency, read.version) == ("GBP", 0)


def test_not_beside_tables_of_the_same_name(rich: Store, database: str) -> None:
    """Somebody's own table called `part` stays as it is, and nothing is put beside it."""
    engine = create_engine(make_url(database).set(drivername="postgresql+psycopg"))
    with engine.begin() as connection:
        connection.execute(text("CREATE TABLE part (mine TEXT)"))
    with pytest.raises(StoreTrouble, match="There is already something at"):
        carry(rich, database)
    assert inspect(engine).get_table_names() == ["part"]
    engine.dispose()


def test_two_at_once(store: Store, database: str) -> None:
    """Of two who carry a book to the same database, one is told that there is something already."""
    said: list[str] = []

    def go() -> None:
        try:
            carry(store, database)
            said.append("carried")
        except StoreTrouble as error:
            said.append(error.message.partition(" at ")[0])

    running = [threading.Thread(target=go) for _ in range(2)]
    for one in running:
        one.start()
    for one in running:
        one.join()
    assert sorted(said) == ["There is already something", "carried"]
    with open_store(database) as there:
        assert held(there) == held(store)


def test_what_a_server_cannot_hold(book_file: Path, database: str) -> None:
    """A character a server does not keep is said so, and nothing is left there."""
    with open_store(book_file) as store:
        with store.writing() as connection:
            connection.execute(text("UPDATE part SET note = 'a' || char(0) || 'b' WHERE id = 1"))
        with pytest.raises(BadInput, match="number 0"):
            carry(store, database)
    with pytest.raises(NoStore):
        open_store(database)


def test_a_digest_knows_what_differs(rich: Store) -> None:
    """Another value, a missing row or a row twice changes a table's digest; the order of rows does not."""
    rows: list[tuple[object, ...]] = [(1, "a", None), (2, "b", True), (3, "", 0)]

    def of(*wanted: tuple[object, ...]) -> Digest:
        digest = Digest()
        digest.add(wanted)
        return digest

    assert of(*rows) == of(*reversed(rows))
    others = [rows[:2], [*rows, rows[0]], [(1, "a", 0), *rows[1:]], [(1, "a", ""), *rows[1:]]]
    assert all(of(*other) != of(*rows) for other in others)
    assert held(rich) != held(rich) | {"part": Digest()}
