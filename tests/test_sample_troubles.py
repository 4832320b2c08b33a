"""What sample_stock/README.md says is wrong in the invented shop is really in its rows."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from sample_sheets import TODAY, level_gap, measured, on_hand, tab

from inventory.measures import read_length
from inventory.measures.drills import TWIN

OYSTERSHELL, SALTMARSH, OVERSEAS = "Oystershell Kits", "Saltmarsh Turning Supplies", "Far Reach Fittings"


def sellers(part: str) -> set[str]:
    """Who offers a part."""
    return {row["supplier"] for row in tab("offers") if row["part"] == part}


def test_tubed_without_bushings() -> None:
    """The Greenshank's barrels are tubed, its bushings are not there and sold in one place only."""
    assert on_hand("Greenshank barrel olivewood tubed") == 4
    assert on_hand("bushings Greenshank") == 0
    assert sellers("bushings Greenshank") == {OVERSEAS}


def test_same_style_other_bushings() -> None:
    """Avocet and Sanderling make the same, with other bushings, tube and drill."""
    families = {row["family"]: row for row in tab("families")}
    ours, theirs = families["Avocet"], families["Sanderling"]
    barrels = {row["family"]: row for row in tab("barrels")}
    assert ours["makes"] == theirs["makes"]
    assert ours["bushings"] != theirs["bushings"]
    assert barrels["Avocet"]["tube"] != barrels["Sanderling"]["tube"]
    assert barrels["Avocet"]["drill"] != barrels["Sanderling"]["drill"]


def test_a_drill_missing_with_its_twin_there() -> None:
    """27/64 is not there; 10.5 mm, near enough to be taken for it, is."""
    assert on_hand("drill 27/64") == 0 < on_hand("drill 10.5 mm")
    assert 0 < abs(read_length("27/64").mm - read_length("10.5 mm").mm) <= TWIN


def test_two_barrels_two_drills() -> None:
    """Cap and body of the Curlew differ in tube and drill."""
    barrels = [row for row in tab("barrels") if row["family"] == "Curlew"]
    assert len({row["tube"] for row in barrels}) == len({row["drill"] for row in barrels}) == 2


def test_pilot_missing() -> None:
    """The Whimbrel's trimmer pilot is not there."""
    pilot = next(row["trimmer pilot"] for row in tab("families") if row["family"] == "Whimbrel")
    assert on_hand(pilot) == 0


def test_pencil_tubes_look_like_pen_tubes() -> None:
    """Same diameter and drill, other length; plenty for pencils, too few for the pens ordered."""
    tubes = {row["part"]: row for row in tab("tubes")}
    pen, pencil = tubes["tube 7 x 53"], tubes["tube 7 x 46 pencil"]
    assert (pen["outside diameter"], pen["drill"]) == (pencil["outside diameter"], pencil["drill"])
    assert read_length(pencil["length"]) < read_length(pen["length"])
    assert on_hand("tube 7 x 53") < 2 * 6 <= on_hand("tube 7 x 46 pencil")


def test_wrong_plating_and_idle_kits() -> None:
    """Fourteen pencil kits in the wrong plating; ten key rings received two and a half years ago."""
    assert on_hand("Turnstone kit 24k gold") == 14
    assert on_hand("Turnstone kit chrome") == 0
    idle = next(row for row in tab("counts") if row["part"] == "Lapwing kit gunmetal")
    assert (TODAY - date.fromisoformat(idle["received on"])).days > 2 * 365


def test_last_kit_is_wanted_twice() -> None:
    """Two orders want one kit, sold only where it takes too long."""
    wanting = [row for row in tab("orders") if row["pattern"] == "Curlew capped pen"]
    assert len(wanting) == 2
    assert on_hand("Curlew kit black titanium") == 1
    assert sellers("Curlew kit black titanium") == {OVERSEAS}


def test_price_step_missed_by_one() -> None:
    """Nine kits of one group are under their levels, the next step starts at ten and costs little more."""
    offers = [row for row in tab("offers") if (row["supplier"], row["price group"]) == (OYSTERSHELL, "kits")]
    elsewhere = {row["part"] for row in tab("offers") if row["supplier"] == SALTMARSH}
    wanted = {row["part"]: level_gap(row["part"]) for row in offers if row["part"] not in elsewhere}
    assert sum(wanted.values()) == 9
    price = {(row["part"], row["from packs"]): Fraction(row["price"]) for row in offers}
    nine = sum(count * price[part, "5"] for part, count in wanted.items())
    ten = sum(count * price[part, "10"] for part, count in wanted.items()) + price["Lapwing kit chrome", "10"]
    assert nine < ten < nine + 2


def test_free_postage_missed_by_little() -> None:
    """What is under its level costs 55.90 at the supplier who posts free from 60.00."""
    cheapest: dict[str, Fraction] = {}
    for row in tab("offers"):
        if row["supplier"] == SALTMARSH and row["from packs"] == "1":
            packs = -(-level_gap(row["part"]) // int(row["pack"]))
            cost = packs * Fraction(row["price"])
            cheapest[row["part"]] = min(cost, cheapest.get(row["part"], cost))
    threshold = next(row["free postage from"] for row in tab("suppliers") if row["supplier"] == SALTMARSH)
    assert sum(cheapest.values()) == Fraction("55.90")
    assert Fraction(threshold) == 60


def test_glue_gone_off_and_accelerator_nearly_out() -> None:
    """The opened thin glue is past its day, a sealed bottle is not; 10 ml of accelerator are left."""
    thin = [date.fromisoformat(row["use by"]) for row in tab("counts") if row["part"] == "CA thin"]
    assert [day < TODAY for day in thin] == [True, False]
    assert on_hand("accelerator") == 10


def test_incomplete_kits_are_not_kits() -> None:
    """Robbed kits and fittings without tubes are spare fittings, counted apart."""
    spare = {row["part"] for row in tab("supplies") if row["type"] == "spare fitting"}
    assert {"Curlew kit chrome without its clip", "Avocet fittings chrome without tube"} <= spare
    assert on_hand("Avocet fittings chrome without tube") == 5


def test_unknown_refill_is_ordered() -> None:
    """The Whimbrel names no refill, and S44 orders that pen, one kit there and none for sale."""
    assert next(row["refill"] for row in tab("families") if row["family"] == "Whimbrel") == ""
    assert next(row["pattern"] for row in tab("orders") if row["order"] == "S44") == "Whimbrel pen"
    assert on_hand("Whimbrel kit antique copper") == 1


def test_measured_blanks_of_use_and_of_none() -> None:
    """Of seven antlers five suit the seam ripper: 2 mm over its fattest end, allowance over its tube."""
    fits = [
        row["lot"]
        for row in measured()
        if row["part"] == "red deer antler"
        and read_length(row["smallest diameter"]).mm >= 12 + 2
        and read_length(row["length"]).mm >= 57 + Fraction("6.4")
    ]
    assert fits == ["antler A", "antler B", "antler D", "antler E", "antler F"]
