"""The little shop of the model: its sheets as text, and the same in plain numbers. Nothing is ever lost by itself.

Two families share their tube, glue and blanks, so that orders compete; a blank of ash gives two pieces (50 mm of tube
and 3 mm each, 2 mm of saw), one of holly gives one; nothing goes off and no tools are kept, so that what an order
needs follows from its count alone.
Glue comes in measured doses: what is set aside of it is what the bill says. Lacquer goes by a rate that nobody has
weighed: how much the tool sets aside of it is asked of the tool (whether it is right: `tests/jobs/test_supply_use.py`),
and what becomes of that is the model's.
"""

from __future__ import annotations

SHEETS = {
    "suppliers": "supplier,lead days\nMarsh Supplies,5\nMarsh,5\nTideline,75\n",
    "platings": "plating\nchrome\nrhodium\nrhod\n",
    "materials": (
        "material,allowance,lost at cut,lost at drill,lost at glue,lost at trim,lost at turn,lost at finish,"
        "lost at assemble\nash,3 mm,0,0,0,0,0,0,0\nholly,3 mm,0,0,0,0,0,0,0\n"
    ),
    "tubes": "part,outside diameter,length,drill\ntube,6.9 mm,50 mm,7 mm\n",
    "blanks": (
        "part,material,shape,width,length\n"
        "ash blank,ash,square,19 mm,110 mm\n"
        "holly blank,holly,square,19 mm,60 mm\n"
    ),
    "supplies": "part,type,unit,net\nglue,measured doses,ml,50 ml\nlacquer,finish,ml,50 ml\n"
    "refill,refill,piece,\nother refill,refill,piece,\n",
    "families": "family,makes,refill\nDunlin,pen,refill\nAvocet,pen,refill\n",
    "barrels": (
        "family,barrel,tube,finished a,finished b\nDunlin,lower,tube,9 mm,9 mm\nAvocet,lower,tube,9 mm,9 mm\n"
    ),
    "kits": (
        "part,family,plating\n"
        "Dunlin kit chrome,Dunlin,chrome\n"
        "Dunlin kit rhodium,Dunlin,rhodium\n"
        "Avocet kit chrome,Avocet,chrome\n"
        "Avocet kit rhod,Avocet,rhod\n"
    ),
    "patterns": "pattern,family,minutes\nDunlin pen,Dunlin,30\nDunlin biro,Dunlin,30\nAvocet pen,Avocet,40\n",
    "bills": "pattern,stage,part,quantity,per\n"
    + "".join(
        f"{name},{line}\n"
        for name in ("Dunlin pen", "Dunlin biro", "Avocet pen")
        for line in (
            "cut,the blank,1,piece",
            "glue,the tubes,1,piece",
            "glue,glue,0.3,piece",
            "finish,lacquer,0.4,piece",
            "assemble,the kit,1,piece",
            "assemble,the refill,1,piece",
        )
    ),
}

STAGES = ("cut", "drill", "glue", "trim", "turn", "finish", "assemble", "pack")
LOSING = ("drill", "turn", "assemble")
"""Stages at which the random hand loses pieces."""
KITS = {
    ("Dunlin pen", "chrome"): "Dunlin kit chrome",
    ("Dunlin pen", "rhodium"): "Dunlin kit rhodium",
    ("Dunlin biro", "chrome"): "Dunlin kit chrome",
    ("Avocet pen", "chrome"): "Avocet kit chrome",
    ("Avocet pen", "rhod"): "Avocet kit rhod",
}
BLANKS = ("ash blank", "holly blank")
GIVES = {"ash blank": 2, "holly blank": 1}
"""Pieces out of one blank."""
LEAD = {"Marsh Supplies": 5, "Marsh": 5, "Tideline": 75}
PLATED = {"rhod": "rhodium"}
"""Platings that may turn out to be another: a family has kits of one of the two only."""
MADE_ALIKE = {"Dunlin biro": "Dunlin pen"}
"""Patterns that may: of one family, with one bill."""
TWINS = {"other refill": "refill", "Marsh": "Marsh Supplies", **PLATED, **MADE_ALIKE}
"""Names that may turn out to be the other's: besides those a part of which no bill speaks, and a supplier."""
COUNTED = (*dict.fromkeys(KITS.values()), *BLANKS, "tube", "refill", "other refill")
"""Parts that are counted in whole ones."""
NET = {"glue": 50_000, "lacquer": 50_000}
"""What a bottle holds."""
BY_RATE = "lacquer"
PARTS = (*COUNTED, *NET)
WEEKS = tuple(
    ", ".join(f"{day} {many}" for day in ("mon", "tue", "wed", "thu", "fri", "sat", "sun"))
    for many in (20, 24)
)
"""Hours of a week, as they are written: more than there ever is to make."""
RETIRING = (("pattern", "Avocet pen"), ("supplier", "Tideline"))
"""What may be retired: nobody's name changes it."""
PACK = {**dict.fromkeys(COUNTED, 1000), **NET}
"""What a pack holds, thousandths of a piece or of a millilitre."""


def bill(kit: str, blank: str) -> tuple[tuple[str, str, int], ...]:
    """Stage, part and thousandths of what one piece takes."""
    return (
        ("cut", blank, 1000),
        ("glue", "tube", 1000),
        ("glue", "glue", 300),
        ("finish", "lacquer", 400),
        ("assemble", kit, 1000),
        ("assemble", "refill", 1000),
    )


def cut(blank: str, pieces: int) -> int:
    """Thousandths of a blank that so many pieces take when they are cut together: whole blanks."""
    return 1000 * -(-pieces // GIVES[blank])


def piece_name(pattern: str, kit: str, blank: str) -> str:
    """What finished pieces are called in the book."""
    return f"{pattern}, of {kit}, {blank}"
