"""The one renderer at 40, 80 and 120 columns: nothing is cut, nothing is too wide, the same rows at every width."""

from __future__ import annotations

import re
import sys
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.cli.drawing.blocks import Cells, Fact, Listing, Screen, Sentence, Whole
from inventory.cli.drawing.colour import good, look, stop, written
from inventory.cli.drawing.draw import LINES, PAGE, draw
from inventory.cli.drawing.texts import broken, hanging, pasted, width_of
from inventory.measures import show_day, show_measurable
from inventory.measures.dates import days_in

WIDTHS = (40, 80, 120)
COLUMNS = (
    Cells("Part"),
    Cells("On hand", right=True, folds=1),
    Cells("Free", right=True),
    Cells("From whom", folds=2),
)
ROWS = [
    ["Curlew kit black titanium, brushed, with the long clip", "12 ml", "3", "Saltmarsh Turning Supplies"],
    ["tube 7 x 53", "5", "5", ""],
    ["accelerator", "100 ml", "0", "Oystershell Kits"],
]


def screen(rows: list[list[str]], least: int | None = 2) -> Screen:
    return Screen(
        "YES, after buying. All parts here Tue 1 Dec; due Mon 14 Dec 2026.",
        ["S42, harbour office: 6 × Dunlin pen, gunmetal, walnut blank"],
        [
            [Fact("Make", "7, to be fairly sure (90 %) of 6 good"), Fact("None", "")],
            [Listing(COLUMNS, rows, least=least), Sentence("What is open goes first.", "· ")],
        ],
        "The other 20 parts are on the shelf",
        [("Reasons", "--why")],
        ("Take it", "kitdrawer promise S42"),
    )


AT = {
    40: """\
YES, after buying. All parts here Tue 1
Dec; due Mon 14 Dec 2026.
S42, harbour office: 6 × Dunlin pen,
gunmetal, walnut blank

Make: 7, to be fairly sure (90 %) of 6
  good

Part                       On hand  Free
─────────────────────────  ───────  ────
Curlew kit black             12 ml     3
titanium, brushed, with
the long clip
  from whom Saltmarsh Turning Supplies
tube 7 x 53                      5     5
accelerator                 100 ml     0
  from whom Oystershell Kits
· What is open goes first.

The other 20 parts are on the shelf.
Reasons: --why.
Take it: kitdrawer promise S42""",
    80: """\
YES, after buying. All parts here Tue 1 Dec; due Mon 14 Dec 2026.
S42, harbour office: 6 × Dunlin pen, gunmetal, walnut blank

Make     7, to be fairly sure (90 %) of 6 good

Part                                   On hand  Free  From whom
─────────────────────────────────────  ───────  ────  ──────────────────────────
Curlew kit black titanium, brushed,      12 ml     3  Saltmarsh Turning Supplies
with the long clip
tube 7 x 53                                  5     5
accelerator                             100 ml     0  Oystershell Kits
· What is open goes first.

The other 20 parts are on the shelf. Reasons: --why.
Take it: kitdrawer promise S42""",
    120: """\
YES, after buying. All parts here Tue 1 Dec; due Mon 14 Dec 2026.
S42, harbour office: 6 × Dunlin pen, gunmetal, walnut blank

Make     7, to be fairly sure (90 %) of 6 good

Part                                                    On hand  Free  From whom
──────────────────────────────────────────────────────  ───────  ────  ──────────────────────────
Curlew kit black titanium, brushed, with the long clip    12 ml     3  Saltmarsh Turning Supplies
tube 7 x 53                                                   5     5
accelerator                                              100 ml     0  Oystershell Kits
· What is open goes first.

The other 20 parts are on the shelf. Reasons: --why.
Take it: kitdrawer promise S42""",
}


@pytest.mark.parametrize("width", WIDTHS)
def test_one_screen_at_three_widths(width: int) -> None:
    """Names are wrapped, cells fold below their row, labels stand apart where there is room."""
    assert "\n".join(draw(screen(ROWS), width)) == AT[width]


@pytest.mark.parametrize("width", WIDTHS)
def test_what_is_shown_does_not_hang_on_the_width(width: int) -> None:
    """Of 60 rows those are folded that a page of 80 columns has no room for; the count says how many."""
    rows = [[f"part {at}", "1", "2", "Saltmarsh Turning Supplies"] for at in range(60)]
    lines = draw(screen(rows), width)
    assert len(draw(screen(rows), PAGE)) == LINES
    shown = [line.split()[1] for line in lines if line.startswith("part ")]
    assert shown == [str(at) for at in range(len(shown))]
    assert f"and {60 - len(shown)} more: --all" in lines
    assert len(shown) == len([line for line in draw(screen(rows), PAGE) if line.startswith("part ")])
    assert sum(line.startswith("part ") for line in draw(screen(rows), width, everything=True)) == 60
    assert sum(line.startswith("part ") for line in draw(screen(rows, least=40), width)) == 40
    assert sum(line.startswith("part ") for line in draw(screen(rows, least=None), width)) == 60


words = st.text(st.characters(exclude_categories=["C", "Z"]), max_size=30)
rows_of = st.lists(st.lists(st.lists(words, max_size=6).map(" ".join), min_size=4, max_size=4), max_size=6)


@given(rows_of, st.sampled_from(WIDTHS))
def test_nothing_is_cut_and_nothing_too_wide(rows: list[list[str]], width: int) -> None:
    """Every sign of every cell is on the screen, in lines no wider than it, but for figures that are wider still."""
    cells = [[row[0], "12", "3.5 ml", row[3]] for row in rows]
    lines = draw(screen(cells, None), width)
    assert all(width_of(line) <= width for line in lines)
    shown = sorted("".join(lines).replace(" ", ""))
    for sign in {sign for row in cells for cell in row for sign in cell if not sign.isspace()}:
        assert shown.count(sign) >= sum(cell.count(sign) for row in cells for cell in row)


@given(st.text(max_size=200), st.integers(2, 100))
def test_text_is_broken_at_its_spaces(text: str, room: int) -> None:
    """Lines that fit, and all the signs that can be printed in their order; what steers a terminal is �."""
    lines = broken(text, room)
    assert all(width_of(line) <= room for line in lines)
    said = "".join(sign if sign.isprintable() else "�" for sign in "".join(text.split()))
    assert "".join("".join(lines).split()) == said or any(sign in text for sign in "\ue0d0\ue0d1\ue0d2\ue0d3")


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("spoiled 2.8 % of it", ["spoiled", "2.8 % of", "it"]),
        ("takes 12 ml of it", ["takes", "12 ml of", "it"]),
        ("about 1.5 h.", ["about", "1.5 h."]),
        ("5 hours and 2 mmm", ["5 hours", "and 2 mmm"]),
        ("a glued % sign", ["a glued %", "sign"]),
    ],
)
def test_a_figure_stays_with_its_unit(text: str, lines: list[str]) -> None:
    """Between them no line ends; what only begins like a unit is a word as any."""
    assert broken(text, 9) == lines


def test_a_command_is_never_broken() -> None:
    """One line to paste, below its label where it is too long, quoted as any shell takes it."""
    command = f"kitdrawer promise {pasted('stall 2026')} --blank {pasted('stabilised maple blue')}"
    lines = draw(Screen("YES.", following=("Take it", command)), 40)
    assert lines[-2:] == ["Take it:", 'kitdrawer promise "stall 2026" --blank "stabilised maple blue"']
    assert (pasted("S42"), pasted('3" blank')) == ("S42", '"3\\" blank"')


def test_a_column_without_content_is_left_out() -> None:
    """Also all of them."""
    rows = [["tube", "", "", ""]]
    drawn = draw(Screen("1 part.", groups=[[Listing(COLUMNS, rows)]]), 80)
    assert drawn == ["1 part.", "", "Part", "────", "tube"]
    assert draw(Screen("1 part.", groups=[[Listing(COLUMNS, [["", "", "", ""]])]]), 80) == ["1 part."]


def test_a_label_alone() -> None:
    """A sentence without text is no line of a screen, but of a form."""
    assert hanging("", "Cut      ", 80) == ["Cut"]


class Terminal:
    """A standard output that is one, or is not."""

    def __init__(self, there: bool) -> None:
        self.there = there

    def isatty(self) -> bool:
        """As asked."""
        return self.there


def test_colour_only_where_a_terminal_has_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """On a terminal, unless NO_COLOR (no-color.org) or a dumb one; the words are the same without."""
    text = f"{good('YES')}, {look('late')}\n{stop('3 short and more')}"
    plain = "YES, late\n3 short and more"
    for name in ("NO_COLOR", "TERM", "COLORTERM"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(sys, "stdout", Terminal(False))
    assert written(text) == plain
    monkeypatch.setattr(sys, "stdout", Terminal(True))
    monkeypatch.setattr("os.name", "posix")
    assert written(text) == ("\x1b[1;32mYES\x1b[0m, \x1b[1;35mlate\x1b[0m\n\x1b[1;31m3 short and more\x1b[0m")
    broken_word = "\n".join(hanging(stop("short of it"), "", 6))
    assert written(broken_word) == "\x1b[1;31mshort\x1b[0m\n\x1b[1;31mof it\x1b[0m"
    assert written("nothing marked") == "nothing marked"
    monkeypatch.setenv("TERM", "dumb")
    assert written(text) == plain
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("NO_COLOR", "1")
    assert written(text) == plain


def test_marks_take_no_column() -> None:
    """A marked cell lines up with the others."""
    rows = [[stop("3 short"), "a"], ["12 short", "b"]]
    lines = draw(Screen("NO.", groups=[[Listing([Cells("", right=True), Cells("")], rows, bare=True)]]), 80)
    assert [width_of(line) for line in lines[2:]] == [11, 11]


@pytest.mark.parametrize(
    ("steps", "unit", "up", "down"),
    [
        (21_220, "ml", "22 ml", "21 ml"),
        (1_000, "ml", "1 ml", "1 ml"),
        (310, "ml", "0.4 ml", "0.3 ml"),
        (30, "ml", "0.1 ml", "under 0.1 ml"),
        (2_706, "strip", "3 strips", "2 strips"),
        (401, "set", "1 set", "0 sets"),
        (6_978, "piece", "7", "6"),
        (1_234, "kg", "1.24 kg", "1.23 kg"),
        (0, "ml", "0 ml", "0 ml"),
        (-2_500, "ml", "-2 ml", "-3 ml"),
    ],
)
def test_amounts_a_hand_can_measure(steps: int, unit: str, up: str, down: str) -> None:
    """Up where it is needed, down where it is there."""
    assert (show_measurable(steps, unit), show_measurable(steps, unit, down=True)) == (up, down)


def test_days_for_people() -> None:
    """The weekday, the month in letters, the year where it is another; 1 Dec 2026 is a Tuesday (ISO calendar)."""
    day = date(2026, 12, 1)
    assert day.isoweekday() == 2
    assert (show_day(day), show_day(day, 2026), show_day(day, 2027)) == (
        "Tue 1 Dec 2026",
        "Tue 1 Dec",
        "Tue 1 Dec 2026",
    )
    said = "due 2026-12-01, not “stall 2026-12-01 a”, 2026-13-01 or 12026-12-01"
    assert days_in(said, 2026) == "due Tue 1 Dec, not “stall 2026-12-01 a”, 2026-13-01 or 12026-12-01"


def test_colours_are_read_on_dark_and_on_light(monkeypatch: pytest.MonkeyPatch) -> None:
    """By the contrast of WCAG 2.2 (1.4.3, bold text): 3 to 1 or more on white and on black, where there are 256."""
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setattr("sys.stdout.isatty", lambda: True)
    monkeypatch.delenv("NO_COLOR", raising=False)
    said = written(f"{good('a')} {look('b')} {stop('c')}")
    numbers = [int(found) for found in re.findall(r"38;5;(\d+)m", said)]
    assert len(set(numbers)) == 3
    for number in numbers:
        own = _luminance(_of_cube(number))
        assert min(1.05 / (own + 0.05), (own + 0.05) / 0.05) >= 3


def _of_cube(number: int) -> tuple[int, ...]:
    """Red, green and blue of xterm's colours 16 to 231: six steps of each."""
    steps = (0, 95, 135, 175, 215, 255)
    return tuple(steps[(number - 16) // by % 6] for by in (36, 6, 1))


def _luminance(colour: tuple[int, ...]) -> float:
    """Relative luminance, WCAG 2.2."""
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in (c / 255 for c in colour)
    ]
    return sum(share * part for share, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


@pytest.mark.parametrize("width", WIDTHS)
def test_what_is_pasted_stays_whole(width: int) -> None:
    """A path is one word of a line at every width; what it is stands before it, or above where there is no room."""
    path = "/home/maker/workshop/books of 2026/penshop-2026-11.kitdrawer"
    lines = draw(Screen("Copied.", (), [[Whole("Copy", path)]]), width)
    assert sum(path in line for line in lines) == 1
    assert (f"Copy: {path}" in lines) == (width > len(path) + 6)


@pytest.mark.parametrize("width", WIDTHS)
def test_headings_take_two_lines_at_most(width: int) -> None:
    """More of them are read as rows; a column is rather folded, its heading inside the line with its capitals."""
    columns = (
        Cells("Lots left, first in, first out"),
        Cells("Left", right=True),
        Cells("end A / B", folds=1),
    )
    lines = draw(Screen("Lots.", (), [[Listing(columns, [["2025", "4", "14.6 mm / 15.1 mm"]])]]), width)
    rule = next(at for at, line in enumerate(lines) if line.startswith("─"))
    assert rule - lines.index("") <= 3
    assert any("end A / B" in line for line in lines)
