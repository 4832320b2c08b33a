"""What the little world of `past_world.py` is made of: what is made and asked for, by whom, and what it takes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

SEASON = (0.7, 0.8, 0.9, 0.9, 1.0, 1.1, 1.0, 0.8, 0.9, 1.1, 1.6, 1.7)
"""How busy each month is."""
A_WEEK = 1.7
CUSTOMERS = (
    *("sail loft", "harbour office", "bell-ringers", "lifeboat crew", "net shed", "ferry office", "tea room"),
    *("school staff room", "the choir", "boat yard", "lighthouse society", "a neighbour", "chandlery"),
)
MARKETS = {
    date(2024, 12, 14): ("harbour market", 16),
    date(2025, 7, 12): ("midsummer fair", 11),
    date(2025, 12, 13): ("harbour market", 20),
    date(2026, 7, 11): ("midsummer fair", 13),
}
TO_COME = (("harbour market", date(2026, 12, 19), 20), ("midsummer fair", date(2027, 7, 10), ""))
AWAY = ((date(2025, 8, 2), date(2025, 8, 18)), (date(2026, 8, 8), date(2026, 8, 23)))
"""Weeks nobody is at the lathe."""
SALT, OYSTER, FAR, WOOD = (
    *("Saltmarsh Turning Supplies", "Oystershell Kits", "Far Reach Fittings", "Driftwood and Horn"),
)
LATE = {SALT: (0, 0, 0, 1, 1, 3), OYSTER: (0, 0, 1, 2, 2, 6), FAR: (0, 5, 9, 16), WOOD: (0, 0, 2, 4)}
POSTED = {SALT: (3, 590, 6000), OYSTER: (5, 450, 7500), FAR: (25, 2400, 25000), WOOD: (7, 850, 10**9)}
"""Days a parcel takes, postage, and from which sum it is free, in hundredths of the supplier's coin."""


@dataclass(frozen=True, slots=True)
class Ware:
    """What is made: how often it is asked for, what it sells at, its platings, its tubes, how it is done."""

    share: float
    price: int
    family: str
    platings: Mapping[str, float]
    tubes: tuple[str, int] = ("", 0)
    refill: str = ""
    sanded: str = "paper"
    coat: str = "glue"
    box: str = "felt sleeve"
    blanks: str = "pen"


def _table(text: str) -> Mapping[str, float]:
    """Names with a number behind each; a semicolon is a comma of a name."""
    rows = [row.rpartition(" ") for row in text.split(", ")]
    return {name.replace(";", ","): float(number) for name, _, number in rows}


DUNLIN = {"chrome": 7, "24k gold": 4, "gunmetal": 6, "black titanium": 2, "rhodium": 2}
PEN, SLIM, CLICK = ("tube 7 x 53", 2), "slim twist refill black", "ball-point refill G2 black"
WARES: Mapping[str, Ware] = {
    "Dunlin pen": Ware(26, 24, "Dunlin", DUNLIN, PEN, SLIM),
    "Dunlin gift pen": Ware(6, 30, "Dunlin", DUNLIN, PEN, SLIM, box="gift box single"),
    "Turnstone pencil": Ware(
        *(8, 24, "Turnstone", {"chrome": 7, "gunmetal": 3}, ("tube 7 x 46 pencil", 2), "pencil lead 0.7 mm"),
        coat="polish",
    ),
    "Avocet pen": Ware(
        *(19, 38, "Avocet", {"chrome": 11, "gunmetal": 7, "24k gold": 2}, ("tube 10.3 x 55.8", 1), CLICK),
        sanded="mesh",
    ),
    "Sanderling pen": Ware(5, 36, "Sanderling", {"rhodium": 3, "gunmetal": 2}, refill=CLICK, sanded="mesh"),
    "Curlew capped pen": Ware(
        *(13, 95, "Curlew", {"chrome": 8, "gold titanium": 2, "black titanium": 1}),
        refill="roller refill blue",
        sanded="mesh",
        box="gift box single",
    ),
    "Godwit seam ripper": Ware(
        11, 32, "Godwit", {"chrome": 7, "24k gold": 3}, ("tube ripper 57", 1), coat="polish", blanks="short"
    ),
    "Redshank stopper": Ware(
        8, 28, "Redshank", {"chrome": 8, "gunmetal": 2}, coat="oil", box="", blanks="block"
    ),
    "Lapwing key ring": Ware(
        9, 16, "Lapwing", {"chrome": 1}, ("tube key ring 42", 1), coat="polish", blanks="short"
    ),
}
WOODS = {
    "pen": _table(
        "walnut blank 7, olivewood blank 7, cherry blank 4, iroko blank 1, bog oak blank 1, acrylic rod storm grey 2, "
        "stabilised maple blue 2, elm burl blank 2"
    ),
    "short": _table("walnut blank 5, olivewood blank 6, cherry blank 3, ash blank 2"),
    "block": _table("walnut stopper block 7, elm burl stopper block 3"),
}
TAKES: Mapping[str, Mapping[str, float]] = {
    "paper": _table("dry strip P120 0.25, dry strip P180 0.25, dry strip P240 0.25, dry strip P320 0.25"),
    "mesh": _table("mesh 180 strip 0.07, mesh 240 strip 0.07, mesh 400 strip 0.07"),
    "glue": _table(
        "CA thin 0.4, CA medium 1.5, accelerator 0.9, wet strip P600 0.4, towel pad 6, nitrile glove 0.5, "
        "polishing pads; fine set 0.02, epoxy 5-minute 1.2"
    ),
    "polish": _table(
        "sanding sealer 0.5, friction polish 1.1, microcrystalline wax 0.2, towel pad 3, epoxy 5-minute 1"
    ),
    "oil": _table("hard wax oil 1.5, towel pad 2, CA thick 0.2"),
}
"""What a piece takes of what goes by measure, about."""
LOOKED_AFTER = _table(
    "CA thin 15, CA medium 25, accelerator 40, epoxy 5-minute 20, wet strip P600 8, towel pad 60, "
    "polishing pads; fine set 0.5, nitrile glove 12, sanding sealer 40, friction polish 40, microcrystalline wax 20, "
    "hard wax oil 25, CA thick 6, denatured alcohol 200, felt sleeve 12, care card 25, gift box single 4, "
    "tube plug wax 15, slim twist refill black 6, ball-point refill G2 black 5, roller refill blue 4, "
    "pencil lead 0.7 mm 15, mesh 180 strip 3, mesh 240 strip 3, mesh 400 strip 3, dry strip P120 8, "
    "dry strip P180 8, dry strip P240 8, dry strip P320 8, tube 7 x 53 12, tube 7 x 46 pencil 8, "
    "tube 10.3 x 55.8 8, tube ripper 57 6, tube key ring 42 5, walnut blank 6, olivewood blank 6, cherry blank 4, "
    "ash blank 3, walnut stopper block 2, elm burl blank 2, acrylic rod storm grey 2, stabilised maple blue 2, "
    "iroko blank 2, elm burl stopper block 1, bog oak blank 2, Dunlin kit chrome 5, Dunlin kit gunmetal 3, "
    "Dunlin kit 24k gold 3, Dunlin kit rhodium 2, Dunlin kit black titanium 2, Turnstone kit chrome 3, "
    "Turnstone kit gunmetal 1, Avocet kit chrome 5, Avocet kit gunmetal 3, Avocet kit 24k gold 1, "
    "Sanderling kit rhodium 2, Sanderling kit gunmetal 1, Curlew kit chrome 2, Curlew kit gold titanium 1, "
    "Godwit kit chrome 4, Godwit kit 24k gold 2, Redshank kit chrome 4, Redshank kit gunmetal 1, "
    "Lapwing kit chrome 4, Curlew kit black titanium 1"
)
"""At how many left it looks low to the makers."""
