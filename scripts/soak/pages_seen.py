"""The page of the shop and labels in a real browser: what a reader without a browser cannot check, and pictures.

    python3 scripts/soak/pages_seen.py [--keep FOLDER]

On the sample, in the system's Chromium: at 320, 390 and 1280 dots nothing is wider than the window, nothing is
complained of, no request leaves the file, an accessibility engine (axe-core) finds no fault, light or dark;
the keyboard reaches the search, which leaves what is asked for; large letters and paper lose nothing. Labels: no text
is cut, with and without the page's own script, each code is read from a picture of the print by zxing-cpp, and in the
PDF every label lies where its sheet says, to a fifth of a millimetre. Exit code 1 where any of it fails.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from environment import PYTHON, ROOT, Stopped, elsewhere, surroundings

CHROMIUM = "/usr/bin/chromium"
TODAY = "2026-11-28"
LONG = "an uncommonly long name of a finish, as some makers print it on the lid, Extra-Hard-Wearing-And-Quick-Drying"
NEAR = 0.2
"""Millimetres a label may lie beside its place."""
MM = 25.4 / 72
WORD = r'xMin="([\d.]+)" yMin="[\d.]+" xMax="([\d.]+)" yMax="[\d.]+">([^<]+)<'


def main(arguments: Sequence[str]) -> int:
    """Make the pages, look at them, and tell what was found."""
    if (code := elsewhere(__file__, arguments, "test", "browser")) is not None:
        return code
    with tempfile.TemporaryDirectory() as made:
        folder = Path(arguments[arguments.index("--keep") + 1]) if "--keep" in arguments else Path(made)
        folder.mkdir(parents=True, exist_ok=True)
        shop(folder)
        faults = seen(folder)
    for fault in faults:
        print(f"FAULT {fault}")
    print("nothing found" if not faults else f"{len(faults)} faults")
    return 1 if faults else 0


def shop(folder: Path) -> None:
    """The sample's pages, with a part of a very long name, and a piece that is finished."""
    sheet = folder / "supplies.csv"
    sheet.write_text(f'part,type,unit,hazards\n"{LONG}",finish,ml,H225; H315; H319; H336\n', encoding="utf-8")
    book = folder / "book.kitdrawer"
    book.unlink(missing_ok=True)

    def run(*words: str) -> None:
        more = surroundings(KITDRAWER_TODAY=TODAY, KITDRAWER_STORE=str(book))
        done = subprocess.run(
            [str(PYTHON.with_name("kitdrawer")), *words],
            env=more,
            capture_output=True,
            text=True,
            check=False,
        )
        if done.returncode not in (0, 3):
            raise Stopped(f"{' '.join(words)}: {done.stderr}")

    run("begin", "--rate", "USD=0.92")
    run("load", str(ROOT / "sample_stock"), "--yes")
    run("load", str(sheet), "--yes")
    run("found", LONG, "100 ml", "--yes")
    run("promise", "S41", "--yes")
    run("made", "Avocet pen", "--plating", "gunmetal", "--blank", "olivewood", "--count", "2", "--yes")
    run("sold", "Avocet pen gunmetal", "1", "--price", "38", "--yes")
    run("page", str(folder / "shop.html"), "--overwrite")
    run("page", str(folder / "wall.html"), "--private", "--overwrite")
    for of, name in (("drawers", "drawers"), ("bottles", "bottles"), ("pieces", "pieces")):
        run("labels", "--of", of, "--save", str(folder / f"{name}.html"), "--first", "3", "--overwrite")
    run("labels", "--sheet", "38.1x21.2", "--save", str(folder / "small.html"), "--overwrite")


def seen(folder: Path) -> list[str]:
    """Everything that is not as it should be."""
    from playwright.sync_api import sync_playwright

    faults: list[str] = []
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        for name in ("shop", "wall"):
            for width in (320, 390, 1280):
                for dark in (False, True):
                    faults += looked(browser, folder, name, width, dark=dark)
            faults += printed_page(browser, folder, name)
        faults += searched(browser, folder)
        for name in ("drawers", "bottles", "pieces", "small"):
            faults += labels_seen(browser, folder, name)
        browser.close()
    return faults


def opened(browser: Any, path: Path, faults: list[str], **how: Any) -> tuple[Any, Any]:
    """A page that tells of complaints and of requests beyond itself."""
    context = browser.new_context(**how)
    page = context.new_page()
    page.on("console", lambda said: faults.append(f"{path.name}: console {said.type}: {said.text}"))
    page.on("pageerror", lambda error: faults.append(f"{path.name}: {error}"))
    own = path.as_uri()
    page.on(
        "request",
        lambda asked: None if asked.url == own else faults.append(f"{path.name} asks for {asked.url}"),
    )
    page.goto(own)
    return context, page


def looked(browser: Any, folder: Path, name: str, width: int, *, dark: bool) -> list[str]:
    """At one width: nothing sticks out, and the accessibility engine finds nothing."""
    from axe_playwright_python.sync_playwright import Axe

    faults: list[str] = []
    how = {"viewport": {"width": width, "height": 900}, "color_scheme": "dark" if dark else "light"}
    context, page = opened(browser, folder / f"{name}.html", faults, **how)
    at = f"{name} at {width}{', dark' if dark else ''}"
    wide = page.evaluate("document.documentElement.scrollWidth")
    if wide > width:
        faults.append(f"{at}: {wide} dots wide")
    page.screenshot(path=str(folder / f"{name}-{width}{'-dark' if dark else ''}.png"), full_page=True)
    if width != 390:
        page.evaluate("document.querySelector('meta[http-equiv]').remove()")
        found = Axe().run(page).response["violations"]
        faults += [f"{at}: {fault['id']}: {fault['nodes'][0]['html'][:120]}" for fault in found]
    if width == 320:  # letters twice as large, as whoever sees badly sets them
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        wide = page.evaluate("document.documentElement.scrollWidth")
        faults += [f"{at}, large type: {wide} dots wide"] if wide > width else []
    context.close()
    return faults


def printed_page(browser: Any, folder: Path, name: str) -> list[str]:
    """On one sheet of A4."""
    faults: list[str] = []
    context, page = opened(browser, folder / f"{name}.html", faults)
    pdf = folder / f"{name}.pdf"
    page.pdf(path=str(pdf), format="A4", prefer_css_page_size=True, print_background=True)
    context.close()
    told = subprocess.run(["pdfinfo", str(pdf)], capture_output=True, text=True, check=True).stdout
    pages = int(re.search(r"Pages:\s+(\d+)", told)[1])  # type: ignore[index]  # pdfinfo always says it
    return [*faults, *([f"{name}: {pages} sheets"] if pages != 1 else [])]


def searched(browser: Any, folder: Path) -> list[str]:
    """By the keyboard alone: the search is reached, words leave what has them all, and that is said aloud."""
    faults: list[str] = []
    context, page = opened(browser, folder / "shop.html", faults)
    for _ in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.id") == "search":
            break
    else:
        faults.append("the keyboard does not reach the search")
    for words, what in (("dunlin chrome", "kit"), ("27/64", "drill"), ("7 x 53", "tube")):
        page.fill("#search", words)
        left = page.evaluate(
            "[...document.querySelectorAll('#list li:not([hidden])')].map(one => one.textContent)"
        )
        said = page.inner_text("#found")
        if not left or not said.startswith(str(len(left))):
            faults.append(f"search of {what} {words}: {len(left)} left, said {said}")
    context.close()
    return faults


def labels_seen(browser: Any, folder: Path, name: str) -> list[str]:
    """No text is cut, codes are read from the picture, and labels lie where they should in print."""
    faults: list[str] = []
    path = folder / f"{name}.html"
    cut = """() => [...document.querySelectorAll('.label')].filter(one => {
        const text = one.querySelector('.text');
        return text.scrollHeight > text.clientHeight + 1 || text.scrollWidth > text.clientWidth + 1;
    }).map(one => one.querySelector('h2').textContent)"""
    plain = folder / f"{name}-plain.html"
    whole = path.read_text(encoding="utf-8")
    plain.write_text(re.sub(r"<script>.*?</script>", "", whole, flags=re.S), encoding="utf-8")
    for shown, how in ((path, "with"), (plain, "without")):
        context, page = opened(browser, shown, faults)
        faults += [f"{name}, {how} its script: {part} is cut" for part in page.evaluate(cut)]
        if shown is path:
            faults += printed_labels(page, folder, name) + codes_read(page, folder, name)
        context.close()
    return faults


def codes_read(page: Any, folder: Path, name: str) -> list[str]:
    """Every code of every sheet, from a picture of the print at 300 dots an inch."""
    import zxingcpp

    codes = """[...document.querySelectorAll('.sheet')].map(sheet =>
        [...sheet.querySelectorAll('.code')].map(one => one.textContent.trim()))"""
    faults = []
    words = ["pdftoppm", "-r", "300", "-gray", str(folder / f"{name}.pdf"), str(folder / name)]
    subprocess.run(words, check=True)
    for picture, wanted in zip(sorted(folder.glob(f"{name}-*.pgm")), page.evaluate(codes), strict=True):
        read = sorted(one.text for one in zxingcpp.read_barcodes(grey(picture)))
        faults += (
            [] if read == sorted(wanted) else [f"{picture.name}: {len(read)} of {len(wanted)} codes read"]
        )
    return faults


def grey(picture: Path) -> Any:
    """The dots of a PGM file."""
    import numpy as np

    data = picture.read_bytes()
    wide, high = map(int, data.split(None, 4)[1:3])
    return np.frombuffer(data[-wide * high :], dtype=np.uint8).reshape(high, wide)


def printed_labels(page: Any, folder: Path, name: str) -> list[str]:
    """In the PDF the code below each square ends at the right of its label, and begins no higher than its top."""
    pdf = folder / f"{name}.pdf"
    page.pdf(path=str(pdf), prefer_css_page_size=True, print_background=True)
    wanted = page.evaluate(
        """[...document.querySelectorAll('.sheet')].map(sheet => [...sheet.querySelectorAll('.label')].map(one =>
        [one.querySelector('.code').textContent.trim(), parseFloat(one.style.left), parseFloat(one.style.top),
         one.offsetWidth / 96 * 25.4]))"""
    )
    said = subprocess.run(
        ["pdftotext", "-bbox", str(pdf), "-"], capture_output=True, text=True, check=True
    ).stdout
    pages = said.split("<page ")[1:]
    faults = [] if len(pages) == len(wanted) else [f"{name}: {len(pages)} pages, {len(wanted)} sheets"]
    square = float(page.evaluate("document.querySelector('.code').offsetWidth")) / 96 * 25.4
    for of, labels in zip(pages, wanted, strict=False):
        words = [
            (text, float(left) * MM, float(right) * MM)
            for left, right, text in re.findall(
                r'xMin="([\d.]+)" yMin="[\d.]+" xMax="([\d.]+)" yMax="[\d.]+">([^<]+)<', of
            )
        ]
        for code, left, _, wide in labels:
            middle = left + wide - 1.5 - square / 2
            near = min((abs((a + b) / 2 - middle) for text, a, b in words if text == code), default=99.0)
            faults += [f"{name}: {code} lies {near:.2f} mm beside its place"] if near > NEAR else []
    return faults


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
