"""`can-take` and `promise` warn where a yes takes the last of what dearer orders usually ask for before more comes."""

from __future__ import annotations

import shutil
from datetime import date, timedelta
from pathlib import Path

import pytest

from .conftest import Kitdrawer, after

RATE = 1 / 13
"""Orders a day in the shop these tests live through."""
CURLEW = ("-m", "Curlew capped pen", "-p", "chrome", "-b", "ash blank")
TODAY = date(2027, 3, 10)


@pytest.fixture(scope="session")
def once_asked(loaded: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A winter in which a Curlew was ordered for 95.00 every thirteenth day, a fortnight ahead, and always made."""

    def winter(call: Kitdrawer, folder: Path) -> None:
        assert folder
        assert call("found", "Curlew kit chrome", "9", "--yes").code == 0
        assert call("found", "CA thin", "300 ml", "--yes").code == 0
        assert call("found", "CA medium", "900 ml", "--yes").code == 0
        assert call("found", "ash blank", "30", "--yes").code == 0
        with pytest.MonkeyPatch.context() as patch:
            for at in range(8):
                day = date(2026, 11, 28) + timedelta(days=13 * at)
                patch.setenv("KITDRAWER_TODAY", day.isoformat())
                due = ("--by", str(day + timedelta(days=14)), "--price", "95")
                assert call("promise", f"P{at}", *CURLEW, *due, "--yes").code in (0, 3)
                assert call("handed-over", f"P{at}", "--made-now", "--yes").code == 0

    return after(loaded, tmp_path_factory.mktemp("asked"), winter)


@pytest.fixture
def asked(once_asked: Path, store: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of it, in March, with the kits that are left counted: three."""
    monkeypatch.setenv("KITDRAWER_TODAY", TODAY.isoformat())
    return Path(shutil.copy(once_asked, store))


def wanted(kitdrawer: Kitdrawer, price: str, *more: str, days: int = 16) -> list[dict[str, object]]:
    """What a promise of the last kits at that price is warned of."""
    due = ("--by", str(TODAY + timedelta(days=days)), "--price", price)
    answer = kitdrawer("promise", "Z1", *CURLEW, *due, *more, "--json")
    assert answer.code in (0, 3), answer.err
    found: list[dict[str, object]] = answer.json["leaves"]
    return found


@pytest.mark.usefixtures("asked")
@pytest.mark.cross_check
def test_a_cheap_order_for_the_last_kits_is_warned_of(kitdrawer: Kitdrawer) -> None:
    """How many are usually asked for is what the winter shows; the chance is the mean one of such a stream."""
    (kit,) = [one for one in wanted(kitdrawer, "60", "--count", "3") if one["part"] == "Curlew kit chrome"]
    days = (date.fromisoformat(str(kit["parcel"])) - TODAY).days
    assert days > 14 + 25 - 1
    assert float(str(kit["asked"])) == pytest.approx(RATE * days, rel=0.3)
    assert kit["left"] == 0
    assert 0.6 < float(str(kit["chance"])) < 1
    assert float(str(kit["chance"])) - float(str(kit["chance_without"])) >= 0.1
    due = ("--by", str(TODAY + timedelta(days=16)), "--price", "60")
    answer = kitdrawer("promise", "Z1", *CURLEW, *due, "--count", "3", "--yes")
    said = " ".join(answer.out.split())
    assert "Leaves 0 Curlew kit chrome; " in said
    assert "usually asked for before the next parcel" in said
    assert len(answer.out.splitlines()) <= 24, answer.out
    assert kitdrawer("release", "Z1", "--yes").code == 0
    why = " ".join(kitdrawer("can-take", "--order", "Z1", "--why").out.split())
    assert "A yes leaves 0 Curlew kit chrome." in why


@pytest.mark.usefixtures("asked")
def test_none_is_warned_of_where_nothing_is_lost(kitdrawer: Kitdrawer) -> None:
    """A price as good as theirs; a day far enough for the next parcel; kits enough for all."""
    assert wanted(kitdrawer, "95", "--count", "3") == []
    assert wanted(kitdrawer, "60", "--count", "3", days=120) == []
    kitdrawer("found", "Curlew kit chrome", "12", "--yes")
    assert wanted(kitdrawer, "60", "--count", "3") == []


@pytest.mark.usefixtures("store")
def test_a_newcomer_is_warned_of_nothing(kitdrawer: Kitdrawer) -> None:
    """Without a past nothing is guessed."""
    assert kitdrawer("can-take", "--order", "S45", "--json").json["leaves"] == []
