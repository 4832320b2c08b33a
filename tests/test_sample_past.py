"""The two invented years of sample_stock/past: they speak of the sample's shop, and a book can be made of them."""

from __future__ import annotations

import csv
import sys
from pathlib import Path

import pytest
import sample_sheets as sample

from inventory.store import open_store, verify

PAST = sample.HERE / "past"
SCRIPTS = Path(__file__).resolve().parent.parent / "scripts"


@pytest.fixture(autouse=True)
def scripts_importable(monkeypatch: pytest.MonkeyPatch) -> None:
    """Scripts find each other as they do when started by name."""
    monkeypatch.syspath_prepend(str(SCRIPTS / "soak"))
    monkeypatch.syspath_prepend(str(SCRIPTS))


def rows(name: str) -> sample.Rows:
    """One sheet of the past."""
    with (PAST / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file, strict=True))


def test_it_speaks_of_the_samples_shop() -> None:
    """Parts, suppliers, patterns, packs and customers are those of the sample; every day lies before the sample's."""
    parts, patterns = set(sample.parts()), set(sample.names("patterns", "pattern"))
    packs = {(row["supplier"], row["part"], row["pack"]) for row in sample.tab("offers")}
    orders = {row["order"] for row in rows("orders")}
    assert {row["part"] for row in rows("opening")} <= parts
    assert {(row["supplier"], row["part"], row["pack"]) for row in rows("purchases")} <= packs
    assert {row["pattern"] for row in rows("orders")} <= patterns
    assert {row["blank"] for row in rows("orders")} <= parts
    assert {row["part"] for row in rows("days") if row["what"] == "made"} <= patterns | orders
    days = [row["day"] for row in rows("days")]
    assert days == sorted(days)
    assert "2024-11-28" < days[0] < "2024-12-15"
    assert "2026-11-01" < days[-1] < "2026-11-28"
    assert not orders & set(sample.names("orders", "order"))


def test_it_is_what_the_little_world_writes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same seed writes the same sheets."""
    import past_world

    for sheet in ("offers", "counts"):
        (tmp_path / f"{sheet}.csv").write_bytes((sample.HERE / f"{sheet}.csv").read_bytes())
    monkeypatch.setattr(past_world, "HERE", tmp_path)
    assert past_world.main() == 0
    written = {kept.name: kept.read_text(encoding="utf-8") for kept in (tmp_path / "past").iterdir()}
    assert written == {kept.name: kept.read_text(encoding="utf-8") for kept in PAST.iterdir()}


@pytest.mark.soak  # some ten seconds
def test_a_book_can_be_made_of_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It adds up, every order of the past is in it, and what nobody touched is what the sample counts."""
    monkeypatch.setenv("KITDRAWER_TODAY", "2026-11-28")
    import two_years

    path = tmp_path / "two_years.kitdrawer"
    two_years.make(path)
    with open_store(str(path)) as store, store.reading() as read:
        assert verify(store) == ()
        known = read.orders()
        assert len(read.first_taken()) > 200
    assert {row["order"].casefold() for row in rows("orders")} <= set(known)
    assert sys.modules["two_years"] is two_years
