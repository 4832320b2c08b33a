"""Checks of a page of labels: no text is cut, codes are read, and each lies on the paper where its sheet says."""

from __future__ import annotations

import json
import re
import subprocess
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from pages_checks import opened

NEAR = 0.2
"""Millimetres a label may lie beside its place."""
PAD = 1.5
"""Millimetres between a code's square and the edges of its label."""
SYMBOL, WHITE = 21, 4
"""Modules of the smallest code and of the white round it (ISO/IEC 18004)."""
DOTS = 300
"""Dots an inch of a picture of the print."""
MM, DOT = 25.4 / 72, 25.4 / DOTS
CUT = """() => [...document.querySelectorAll('.label')].filter(one => {
    const text = one.querySelector('.text');
    return text.scrollHeight > text.clientHeight + 1 || text.scrollWidth > text.clientWidth + 1;
}).map(one => one.querySelector('h2').textContent)"""
WORD = r'xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]+)<'
Label = Mapping[str, Any]


def labels_seen(browser: Any, path: Path) -> list[str]:
    """All of it; with and without the page's own script no text is cut. Beside the page lies what --json said of it."""
    faults: list[str] = []
    told = json.loads(path.with_suffix(".json").read_text(encoding="utf-8"))
    plain = path.with_name(f"{path.stem}-plain.html")
    whole = path.read_text(encoding="utf-8")
    plain.write_text(re.sub(r"<script>.*?</script>", "", whole, flags=re.S), encoding="utf-8")
    for shown, how in ((path, "with"), (plain, "without")):
        context, page = opened(browser, shown, faults)
        faults += [f"{path.stem}, {how} its script: {part} is cut" for part in page.evaluate(CUT)]
        if shown is path:
            page.pdf(path=str(path.with_suffix(".pdf")), prefer_css_page_size=True, print_background=True)
            square = float(page.evaluate("document.querySelector('.code').offsetWidth")) / 96 * 25.4
            faults += printed(path, told, square)
        context.close()
    return faults


def printed(path: Path, told: Mapping[str, Any], square: float) -> list[str]:
    """Sheet by sheet, from the PDF beside the page and pictures of it. square: millimetres of a code with its white."""
    pdf = path.with_suffix(".pdf")
    subprocess.run(["pdftoppm", "-r", str(DOTS), "-gray", str(pdf), str(path.with_suffix(""))], check=True)
    words = ["pdftotext", "-bbox", str(pdf), "-"]
    pages = subprocess.run(words, capture_output=True, text=True, check=True).stdout.split("<page ")[1:]
    pictures = sorted(path.parent.glob(f"{path.stem}-*.pgm"))
    if not len(pages) == len(pictures) == told["sheets"]:
        return [f"{path.stem}: {len(pages)} pages, {told['sheets']} sheets"]
    faults = []
    for number, (picture, text) in enumerate(zip(pictures, pages, strict=True), start=1):
        labels = [one for one in told["labels"] if one["sheet"] == number]
        size = told["label"]["width"], told["label"]["height"]
        dots = grey(picture)
        faults += [f"{path.stem}, sheet {number}: {fault}" for fault in _codes(dots, labels)]
        faults += [
            f"{path.stem}, sheet {number}: {fault}" for fault in _places(dots, labels, size[0], square)
        ]
        faults += [f"{path.stem}, sheet {number}: {fault}" for fault in _words(text, labels, size)]
    return faults


def grey(picture: Path) -> Any:
    """The dots of a PGM file."""
    import numpy as np

    data = picture.read_bytes()
    wide, high = map(int, data.split(None, 4)[1:3])
    return np.frombuffer(data[-wide * high :], dtype=np.uint8).reshape(high, wide)


def _codes(dots: Any, labels: Sequence[Label]) -> Iterator[str]:
    """Every code is read, and is its part's."""
    import zxingcpp

    read = sorted(one.text for one in zxingcpp.read_barcodes(dots))
    if read != sorted(one["code"].upper() for one in labels):
        yield f"{len(read)} of {len(labels)} codes read"


def _places(dots: Any, labels: Sequence[Label], wide: float, square: float) -> Iterator[str]:
    """The dark of each code begins and ends where its label's place says, sideways, up and down."""
    module = square / (SYMBOL + 2 * WHITE)
    for one in labels:
        left = one["left"] + wide - PAD - square + WHITE * module
        top = one["top"] + PAD + WHITE * module
        off = _beside(dots, left, top, SYMBOL * module, (WHITE - 0.5) * module)
        for how, by in zip(("sideways", "up or down"), off, strict=True):
            if by > NEAR:
                yield f"{one['code']} lies {by:.2f} mm {how} of its place"


def _beside(dots: Any, left: float, top: float, side: float, round_it: float) -> tuple[float, float]:
    """Millimetres the dark near a square lies beside it, sideways and up or down; its side where there is none."""
    import numpy as np

    first_x, first_y, last_x, last_y = (
        round(one / DOT)
        for one in (left - round_it, top - round_it, left + side + round_it, top + side + round_it)
    )
    dark = dots[first_y:last_y, first_x:last_x] < 128
    columns, rows = np.flatnonzero(dark.any(axis=0)), np.flatnonzero(dark.any(axis=1))
    if not len(columns):
        return side, side
    ends = (
        ((columns[0] + first_x) * DOT - left, (columns[-1] + 1 + first_x) * DOT - left - side),
        ((rows[0] + first_y) * DOT - top, (rows[-1] + 1 + first_y) * DOT - top - side),
    )
    across, down = (float(max(map(abs, one))) for one in ends)
    return across, down


def _words(page: str, labels: Sequence[Label], size: tuple[float, float]) -> Iterator[str]:
    """Every word that is printed lies inside a label."""
    wide, high = size
    for *at, text in re.findall(WORD, page):
        left, top, right, foot = (float(one) * MM for one in at)
        if not any(
            one["left"] <= left <= right <= one["left"] + wide
            and one["top"] <= top <= foot <= one["top"] + high
            for one in labels
        ):
            yield f"{text} lies outside its label"
