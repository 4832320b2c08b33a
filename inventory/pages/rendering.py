"""The page as HTML: one file with its styles, its pictures and the few lines of script that search in it."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from inventory.measures import look, show_day
from inventory.pages.bars import month_bars, use_bars
from inventory.reports.accounts.page import ShopPage

if TYPE_CHECKING:
    from jinja2 import Environment


def surroundings() -> Environment:
    """How every template is filled: texts as texts, and a name nobody gave is a fault."""
    from jinja2 import Environment, PackageLoader, StrictUndefined

    return Environment(
        loader=PackageLoader("inventory.pages", ""),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def page_html(page: ShopPage) -> str:
    """Whatever a sheet put into a name is shown as text, never as markup."""
    from markupsafe import Markup

    def day(of: date | None) -> str:
        return "" if of is None else show_day(of, page.day.year)

    bars = "" if page.money is None else month_bars(page.money.months, page.money.coin)
    template = surroundings().get_template("page.html.j2")
    drawn = Markup(bars)  # noqa: S704 - drawn by us; its texts are escaped by the library that draws it
    uses = [Markup(one) for one in use_bars([part.by_month for part in page.parts])]  # noqa: S704 - figures alone
    return template.render(look=look, page=page, day=day, today=show_day(page.day), bars=drawn, uses=uses)
