"""Bars as SVG that lies in the page: drawn in the page's own colours, told in words to who cannot see them."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

WIDTH, HEIGHT, FOOT = 320, 120, 18
STEP, TALL, _BARS = 5, 16, "M0,0"
"""A month's width in a row's little picture, and its height, dots; what stands for its bars until they do."""


def month_bars(months: Sequence[tuple[str, Decimal, Decimal]], coin: str) -> str:
    """Sold for and left of each month, side by side; empty where there is none."""
    import drawsvg

    if not months:
        return ""
    most = max(max(sold, left, Decimal(1)) for _, sold, left in months)
    least = min(min(left for *_, left in months), Decimal(0))
    room, span = HEIGHT - FOOT, float(most - least)
    zero = room * float(most) / span
    told = "; ".join(f"{name}: sold for {sold} {coin}, left {left} {coin}" for name, sold, left in months)
    picture = drawsvg.Drawing(WIDTH, HEIGHT, role="img", aria_label=told, style="width:100%;height:auto")
    step = WIDTH / len(months)
    for at, (name, sold, left) in enumerate(months):
        for part, (value, look) in enumerate(((sold, "sold"), (left, "left"))):
            tall = abs(float(value)) * room / span
            top = zero - tall if value > 0 else zero
            wide = step * 0.36
            picture.append(
                drawsvg.Rectangle(at * step + step * 0.12 + part * wide, top, wide, tall, class_=look)
            )
        look = "month" if (len(months) - at) % 2 else "month other"  # on a telephone the others make room
        picture.append(
            drawsvg.Text(name[:3], 11, at * step + step / 2, HEIGHT - 4, text_anchor="middle", class_=look)
        )
    picture.append(drawsvg.Line(0, zero, WIDTH, zero, class_="zero"))
    return str(picture.as_svg(header="", skip_js=True, skip_css=True))


def use_bars(parts: Sequence[Sequence[int]]) -> list[str]:
    """Of each part a bar for each month of what was used, as high as a line of text; empty where nothing was.

    It stands beside the words that say the same, so a reader who hears the page is told once. All of a length are
    one drawing but for the line of their bars: drawn anew for thousands of parts it would be most of the page's time.
    """
    frames = {months: _frame(months).split(_BARS) for months in {len(part) for part in parts if any(part)}}
    return [_bars(part).join(frames[len(part)]) if any(part) else "" for part in parts]


def _frame(months: int) -> str:
    import drawsvg

    wide = STEP * months
    picture = drawsvg.Drawing(wide, TALL, aria_hidden="true", class_="use")
    picture.append(drawsvg.Path(_BARS, class_="main"))
    picture.append(drawsvg.Line(0, TALL - 0.5, wide, TALL - 0.5, class_="zero"))
    return str(picture.as_svg(header="", skip_js=True, skip_css=True))


def _bars(part: Sequence[int]) -> str:
    """An outline for each month in which anything was used: at least a dot high, the highest as high as there is."""
    most = max(part)
    high = [max(round((TALL - 1) * many / most, 1), 1) if many > 0 else 0 for many in part]
    return "".join(
        f"M{month * STEP + 0.5},{TALL - 1}v-{tall}h{STEP - 1}v{tall}z"
        for month, tall in enumerate(high)
        if tall
    )
