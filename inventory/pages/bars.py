"""Bars as SVG that lies in the page: drawn in the page's own colours, told in words to who cannot see them."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

WIDTH, HEIGHT, FOOT = 320, 120, 18


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
        picture.append(
            drawsvg.Text(name[:3], 11, at * step + step / 2, HEIGHT - 4, text_anchor="middle", class_="month")
        )
    picture.append(drawsvg.Line(0, zero, WIDTH, zero, class_="zero"))
    return str(picture.as_svg(header="", skip_js=True, skip_css=True))
