"""`page`: one file for a browser: all in it, nothing asked of any network, nothing private where it hangs on a wall."""

from __future__ import annotations

import csv
import re
import shutil
import subprocess
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from html import escape
from html.parser import HTMLParser
from pathlib import Path

import html5lib
import pytest

from inventory.cli.past.used import use_by_month, use_of_late
from inventory.cli.session import shop_of
from inventory.store import open_to_look

from .conftest import SAMPLE, Kitdrawer

pytestmark = pytest.mark.usefixtures("store")
VOID = {"meta", "input", "br"}
WITHOUT_END = VOID | {"path", "rect", "line"}


class Tree(HTMLParser):
    """Tags that are open, ids, words, and whatever would be fetched."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.ids: list[str] = []
        self.labels: list[str] = []
        self.fetched: list[str] = []
        self.words: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Open it."""
        if tag not in VOID:
            self.open.append(tag)
        for name, value in attrs:
            if name == "id":
                self.ids.append(value or "")
            if name in ("aria-labelledby", "for"):
                self.labels.append(value or "")
            if name in ("src", "href", "action", "data", "poster", "srcset"):
                self.fetched.append(value or "")

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """It ends at once."""

    def handle_endtag(self, tag: str) -> None:
        """The last one opened is closed."""
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        """A text."""
        if self.open and self.open[-1] not in ("script", "style"):
            self.words.append(data)


def read(path: Path) -> Tree:
    """The page, every tag closed in its turn."""
    tree = Tree()
    tree.feed(path.read_text(encoding="utf-8"))
    assert tree.open == []
    return tree


def test_the_page_is_whole_and_asks_nothing_of_any_network(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Well formed, each label has what it names, nothing is fetched; figures are those of --json."""
    assert kitdrawer("promise", "S41", "--yes").code in (0, 3)
    for sum_, day in (("12.34", "2026-11-28"), ("5", "2026-03-01")):
        assert kitdrawer("spent", "stall fee", sum_, "--on", day, "--yes").code == 0
    path = tmp_path / "shop.html"
    told = kitdrawer("page", str(path), "--json").json
    tree = read(path)
    html5lib.HTMLParser(strict=True).parse(
        path.read_text(encoding="utf-8")
    )  # a reader of HTML made elsewhere
    assert tree.fetched == []
    assert set(tree.labels) <= set(tree.ids)
    assert len(tree.ids) == len(set(tree.ids))
    text = path.read_text(encoding="utf-8")
    assert not re.search(
        r"https?://(?!www\.w3\.org/)", text
    )  # names of SVG's own words are no addresses to go to
    assert "default-src 'none'" in text
    said = " ".join(" ".join(tree.words).split())
    month, year = (kitdrawer("earned", *since, "--json").json for since in (("--since", "2026-11-01"), ()))
    assert (month["total"]["left"], year["total"]["left"]) == (Decimal("-12.34"), Decimal("-17.34"))
    assert "Left this month -12.34 EUR Left this year -17.34 EUR" in said
    assert f"{told['worth']} EUR" in said
    assert told["worth"] == kitdrawer("worth", "--json").json["total"]
    assert told["left_this_year"] == year["total"]["left"]
    for part in kitdrawer("shelf", "--json").json["parts"]:
        assert part["part"] in said
    for order in kitdrawer("orders", "--json").json["orders"]:
        assert order["order"] in said


def test_what_hangs_on_a_wall_tells_no_money_and_no_names(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """No customer, no order's name, no coin."""
    path = tmp_path / "wall.html"
    assert kitdrawer("page", str(path), "--private").code == 0
    text = path.read_text(encoding="utf-8")
    for order in kitdrawer("orders", "--json").json["orders"]:
        assert order["customer"] is None or order["customer"] not in text
        assert f"{order['order']}," not in text
    assert "EUR" not in text
    assert "Godwit seam ripper" in text


def test_what_a_sheet_names_stays_text(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """A part called like markup is shown, not obeyed."""
    sheet = tmp_path / "supplies.csv"
    sheet.write_text('part,type,unit\n"wax </li><script>alert(1)</script>",finish,g\n', encoding="utf-8")
    assert kitdrawer("load", str(sheet), "--yes").code == 0
    path = tmp_path / "shop.html"
    assert kitdrawer("page", str(path)).code == 0
    assert "wax </li><script>alert(1)</script>" in " ".join(read(path).words)
    assert path.read_text(encoding="utf-8").count("<script>") == 1


def test_a_page_is_never_written_over_unasked(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Another name, or --overwrite; a name that is no page's is refused."""
    path = tmp_path / "shop.html"
    assert kitdrawer("page", str(path)).code == 0
    assert kitdrawer("page", str(path)).code == 1
    assert kitdrawer("page", str(path), "--overwrite").code == 0
    assert "Let it end in .html" in kitdrawer("page", str(tmp_path / "shop.xlsx")).err


@pytest.mark.soak
@pytest.mark.skipif(shutil.which("chromium") is None, reason="no browser on this machine")
@pytest.mark.parametrize("width", [320, 390, 1280])
def test_a_browser_shows_it_without_scrolling_sideways(
    kitdrawer: Kitdrawer, tmp_path: Path, width: int
) -> None:
    """In a real browser nothing is wider than the window, searching hides rows, and nothing is complained of."""
    path = tmp_path / "shop.html"
    assert kitdrawer("page", str(path)).code == 0
    probe = """<script>window.addEventListener("load", function () {
      var field = document.getElementById("search"), wide = document.documentElement.scrollWidth;
      field.value = "dunlin chrome"; field.dispatchEvent(new Event("input"));
      parent.document.title = [wide, innerWidth, document.querySelectorAll("#list li:not([hidden])").length].join(" ");
    });</script></body>"""
    inside = escape(path.read_text(encoding="utf-8").replace("</body>", probe))
    # no window is narrower than some 500 dots, a frame is
    frame = (
        f'<title></title><iframe width="{width}" height="900" style="border:0" srcdoc="{inside}"></iframe>'
    )
    path.write_text(f"<!doctype html>{frame}", encoding="utf-8")
    words = ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--enable-logging=stderr", "--v=0"]
    words += [
        "--disable-background-networking",
        f"--user-data-dir={tmp_path / 'user'}",
        "--window-size=1400,1000",
    ]
    ran = subprocess.run(
        [*words, "--dump-dom", path.as_uri()], capture_output=True, text=True, timeout=120, check=True
    )
    found = re.search(r"<title>(\d+) (\d+) (\d+)</title>", ran.stdout)
    assert found, ran.stdout[:500]
    wide, inner, left = map(int, found.groups())
    assert wide <= inner == width
    assert 0 < left < 10
    assert "CONSOLE" not in ran.stderr


def rows(path: Path) -> dict[str, tuple[str, str]]:
    """Of each part in the list, by its name: what the search looks at, and its markup."""
    found = re.findall(
        r'<li data-words="([^"]*)"><b>([^<]*)</b>(.*?)</li>', path.read_text(encoding="utf-8"), re.S
    )
    return {name: (words, rest) for words, name, rest in found}


@pytest.mark.cross_check
def test_what_a_year_used_is_told_in_words_and_bars(
    kitdrawer: Kitdrawer, store: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By months of the calendar, twelve with this one; what was taken back or used before them is in neither.

    The days left are at the rate of the half year that `shopping` goes by, whatever the months.
    """
    path, part = tmp_path / "shop.html", "tube 7 x 46 pencil"

    def told(today: str) -> tuple[str, dict[float, float]]:
        monkeypatch.setenv("KITDRAWER_TODAY", today)
        assert kitdrawer("page", str(path), "--overwrite").code == 0
        assert "<svg" not in rows(path)["Lapwing kit gunmetal"][1]
        _, markup = rows(path)[part]
        assert 'aria-hidden="true"' in markup  # the words say it to whoever hears the page
        bars = re.findall(r"M([\d.]+),15v-([\d.]+)h4", markup)
        return markup.rpartition("</svg> ")[2].partition("</span>")[0], {
            (float(x) - 0.5) / 5: float(high) for x, high in bars
        }

    def broke(day: str, many: int) -> None:
        monkeypatch.setenv("KITDRAWER_TODAY", day)
        assert kitdrawer("took", part, str(many), "--reason", "broke", "--yes").code in (0, 3)

    for day, many in (("2026-11-29", 9), ("2026-12-01", 4), ("2027-05-20", 8)):
        broke(day, many)
    assert told("2027-10-31") == ("used 21 in 12 months, most in Nov", {0: 15, 1: 6.7, 6: 13.3})
    broke("2027-11-02", 1)
    broke("2027-11-20", 2)
    assert kitdrawer("undo", "--yes").code == 0
    assert told("2027-11-20") == ("used 13 in 12 months, most in May", {0: 7.5, 5: 15, 11: 1.9})
    with open_to_look(str(store)) as book, book.reading() as read:
        shop = shop_of(read)
        for back in range(0, 400, 9):
            shop = replace(shop, today=date(2027, 12, 31) - timedelta(days=back))
            used, days, months, by_month = use_by_month(read, shop)
            assert (used, days) == use_of_late(read, shop)
            assert len(months) == 12
            assert {key: sum(sums) for key, sums in by_month.items()} == read.used_since(months[0])


@pytest.mark.cross_check
def test_a_kit_is_found_by_the_drills_and_tubes_of_its_barrels(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """As the sheets say them: the drill of a barrel, else that of its tube; every one of them can be searched for."""

    def sheet(name: str) -> list[dict[str, str]]:
        with (SAMPLE / f"{name}.csv").open(encoding="utf-8") as file:
            return list(csv.DictReader(file))

    path = tmp_path / "shop.html"
    assert kitdrawer("page", str(path)).code == 0
    tubes = {one["part"]: one["drill"] for one in sheet("tubes")}
    told, checked = rows(path), 0
    for kit in sheet("kits"):
        for barrel in (one for one in sheet("barrels") if one["family"] == kit["family"]):
            words, markup = told[kit["part"]]
            drill = barrel["drill"] or tubes.get(barrel["tube"], "")
            assert not drill or f"drill {drill}" in markup
            assert drill.lower() in words
            if barrel["tube"] != "none":
                assert barrel["tube"] in markup
                assert barrel["tube"].lower() in words
            checked += bool(drill)
    assert checked > 20
