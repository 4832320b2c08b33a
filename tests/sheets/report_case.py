"""A weekend looked back on, drawn up by hand."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from inventory.measures import currency
from inventory.reports.session_report import (
    LossChanged,
    Lost,
    MadePieces,
    RateChanged,
    SessionDifference,
    SessionReport,
    ToBuy,
    Used,
)
from inventory.reports.shortfalls import Shortfall

REPORT = SessionReport(
    "Session 3 & market on the quay",
    date(2026, 11, 29),
    currency("EUR"),
    made=(
        MadePieces("Dunlin gloss pen", "wren wedding", 12, 2, 10_380),
        MadePieces("Redshank stopper", "the stall 2026-11-28 a", 4, 1, 2416),
        MadePieces("Dunlin gloss pen", "=teal", 2, 0, 1731),
    ),
    lost=(Lost("drill", 1, 214), Lost("turn", 1, 431), Lost("assemble", 1, 602)),
    used=(
        Used("thin CA", "ml", 14_250, 17_900),
        Used("5-minute epoxy", "g", 9600, 9300),
        Used("strips P240", "strip", 9500, 8000),
        Used("polishing pads", "pad", 0, 1000),
    ),
    differences=(
        SessionDifference(
            "Dunlin kit chrome",
            "piece",
            17_000,
            15_000,
            (
                "two pieces were made and not written down: strips and glue are short by as much as two pieces take",
                "counted into the neighbouring drawer: Dunlin kit gunmetal has 2 more than expected",
            ),
        ),
        SessionDifference("olive 19 x 127", "piece", 30_000, 31_000),
    ),
    short=(Shortfall("godwit gift", "Dunlin kit chrome", 2000, "piece", date(2026, 12, 12)),),
    rates=(RateChanged("thin CA", "barrel", Fraction(4, 5), Fraction(101, 110), "ml"),),
    losses=(LossChanged("olive", "turn", Fraction(1, 50), Fraction(3, 125)),),
    to_buy=(ToBuy("Dunlin kit chrome", 5000, "piece", "2 short for godwit gift, 3 to the reorder level"),),
    cautions=("thin CA passes its use-by on 2027-03-01.",),
)
