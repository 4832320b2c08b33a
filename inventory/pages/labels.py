"""Labels as a page to print: each at its place in millimetres, with the part's code as a square a telephone reads."""

from __future__ import annotations

from decimal import Decimal

from inventory.measures import look
from inventory.measures.labels import PAPERS, LabelSheet
from inventory.pages.rendering import surroundings
from inventory.reports.labels import LabelRun, PartLabel

PAD = Decimal("1.5")
"""Millimetres left free round what stands on a label: printers are not exact."""
LARGEST, SMALLEST, FROM_HEIGHT = 14.0, 4.5, 0.33
"""Points of a name, at most by the height of its label; what does not fit at the smallest the page itself makes fit."""
MM_A_POINT = 25.4 / 72
LETTER = 0.56
"""Width of a letter of running text in Helvetica and its kin, of its size: a little more than their mean."""
LINE = 1.2


def labels_html(run: LabelRun) -> str:
    """Whatever a sheet put into a name is shown as text, never as markup."""
    width, height = PAPERS[run.sheet.paper]
    square = square_of(run.sheet)
    squares = {code: qr_path(code) for code in dict.fromkeys(one.code for one in run.labels)}
    sheets = [
        [(*run.sheet.place(place), label, *_text(run.sheet, square, label)) for place, label in one]
        for one in run.by_sheet()
    ]
    template = surroundings().get_template("labels.html.j2")
    return template.render(
        look=look, run=run, sheets=sheets, squares=squares, square=square, pad=PAD, paper=(width, height)
    )


def square_of(sheet: LabelSheet) -> Decimal:
    """Millimetres of the code with the white around it: as high as the label lets it, at most 18."""
    return min(sheet.height - 2 * PAD - 3, sheet.width / 3, Decimal(18)).quantize(Decimal("0.1"))


def qr_path(code: str) -> tuple[int, str]:
    """The side in modules, white margin included, and the dark ones as an SVG path. ISO/IEC 18004, by segno.

    Capitals and digits take the shortest of its alphabets, so that every code fits its smallest square.
    """
    import segno

    made = segno.make_qr(code.upper(), error="m")
    border = 4  # modules of white that the standard asks for
    runs = []
    for y, row in enumerate(made.matrix):
        x = 0
        while x < len(row):
            start = x
            while x < len(row) and row[x]:
                x += 1
            if x > start:
                runs.append(f"M{start + border} {y + border}h{x - start}v1h-{x - start}z")
            x += 1
    return len(made.matrix) + 2 * border, "".join(runs)


def _text(sheet: LabelSheet, square: Decimal, label: PartLabel) -> tuple[float, float]:
    """Points of the name and of the small text, as far as can be reckoned without the machine's own letters."""
    wide = float(sheet.width - square - 3 * PAD)
    high = float(sheet.height - 2 * PAD)
    size = min(LARGEST, round(4 * FROM_HEIGHT * float(sheet.height)) / 4)
    while size > SMALLEST and _height(label, size, wide) > high:
        size -= 0.25
    return size, _small(size)


def _small(size: float) -> float:
    return max(size * 0.72, SMALLEST * 0.8)


def _height(label: PartLabel, size: float, wide: float) -> float:
    """Millimetres all texts take."""
    texts = [
        (label.part, size * 1.05),
        *((line, size * 0.85) for line in (*label.lines, label.price) if line),
    ]
    texts += [(label.small, _small(size))] if label.small else []
    return sum(_lines(text, points, wide) * points * LINE * MM_A_POINT for text, points in texts)


def _lines(text: str, points: float, wide: float) -> int:
    """Lines a text takes, broken between words, and inside those that are longer than a line."""
    letters = max(int(wide / (points * LETTER * MM_A_POINT)), 1)
    lines, left = 1, letters
    for word in text.split():
        many = len(word)
        if many > left and left < letters:
            lines, left = lines + 1, letters
        while many > left:
            many, lines, left = many - left, lines + 1, letters
        left -= many + 1
    return lines
