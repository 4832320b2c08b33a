"""One look: colours are said in one place, and what is read keeps its contrast on its ground, day, night and print."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from inventory.measures import look

PACKAGE = Path(__file__).resolve().parents[2] / "inventory"


def luminance(colour: str) -> float:
    """Relative luminance of sRGB, as WCAG 2.2 defines it."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    red, green, blue = (one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """From 1 to 21."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.outside
def test_the_measure_is_the_published_one() -> None:
    """WCAG 2.2: black on white is 21 to 1, and #777777 on white, at 4.48, misses 4.5 (from memory)."""
    assert contrast("000000", "FFFFFF") == pytest.approx(21)
    assert contrast("777777", "FFFFFF") == pytest.approx(4.48, abs=0.005)


@pytest.mark.outside
@pytest.mark.parametrize("page", [look.LIGHT, look.DARK, look.PRINT], ids=["light", "dark", "print"])
def test_what_is_read_keeps_its_contrast(page: dict[str, str]) -> None:
    """Texts 4.5 to 1 on the page and on figures' ground, bars and lines 3 to 1 (WCAG 2.2, 1.4.3 and 1.4.11)."""
    for text in ("ink", "quiet", "stop", "look", "good"):
        for ground in ("paper", "head"):
            assert contrast(page[text], page[ground]) >= 4.5, (text, ground)
    for drawn in ("main", "second", "line"):
        assert contrast(page[drawn], page["paper"]) >= 3, drawn


@pytest.mark.outside
@pytest.mark.parametrize("colour", [*look.SERIES, look.LINK, look.LOOKED_AT, look.EDGE])
def test_what_sheets_draw_is_seen_on_white(colour: str) -> None:
    """Lines and bars 3 to 1; a link 4.5 to 1."""
    assert contrast(colour, "FFFFFF") >= (4.5 if colour == look.LINK else 3)


def test_no_other_place_says_a_colour() -> None:
    """Neither sheets nor pages; labels are black on white."""
    said = {
        (path.name, colour)
        for room in ("sheets", "pages")
        for path in (PACKAGE / room).rglob("*.*")
        if path.suffix in (".py", ".j2") and path.name != "labels.html.j2"
        for colour in re.findall(
            r"[\"#]([0-9A-Fa-f]{6}|(?<=#)[0-9a-f]{3})\b[\";]", path.read_text(encoding="utf-8")
        )
    }
    assert said == set()
