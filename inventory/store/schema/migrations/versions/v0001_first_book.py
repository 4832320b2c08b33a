"""The first book: catalogue, documents, lines and what they add up to.

Revision ID: 0001
"""

from __future__ import annotations

from inventory.store.schema.migrations.steps.tables import guard, guarding, index, make

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

TABLES = {
    "part": "id:i* key:s! name:s kind:s unit:s note:s level:b?",
    "plating": "id:i* key:s! name:s",
    "plating_stand_in": "plating_id:i*>plating.id position:i* stand_in_id:i>plating.id",
    "material": "id:i* key:s! name:s allowance:s caution:s listed_species:s",
    "material_loss": "material_id:i*>material.id position:i* stage:s share:s",
    "tube": "part_id:i*>part.id outside:s length:s drill:s",
    "blank": "part_id:i*>part.id material_id:i>material.id shape:s width:s? length:s?",
    "supply": "part_id:i*>part.id type:s net:b? tare:b? keeps_sealed:i? keeps_opened:i? hazards:s density:s?",
    "tool": "part_id:i*>part.id type:s size:s life:b?",
    "family": "id:i* key:s! name:s makes:s refill_id:i?>part.id note:s",
    "family_tool": "family_id:i*>family.id duty:s* position:i* part_id:i>part.id",
    "barrel": "family_id:i*>family.id position:i* name:s tube_id:i?>part.id drill:s? finished_a:s? finished_b:s?"
    " length:s?",
    "kit": "part_id:i*>part.id family_id:i>family.id plating_id:i>plating.id tubes_inside:t",
    "pattern": "id:i* key:s! name:s family_id:i>family.id note:s minutes:i?",
    "bill_line": "pattern_id:i*>pattern.id position:i* stage:s part_id:i?>part.id role:s? taken_id:i?>pattern.id"
    " quantity:b per:s",
    "supplier": "id:i* key:s! name:s lead_days:i? postage:b free_from:b? minimum_order:b? currency:s email:s note:s",
    "offer": "id:i* part_id:i>part.id supplier_id:i>supplier.id pack:b code:s price_group:s seen_on:d?",
    "price_step": "offer_id:i*>offer.id from_packs:i* price:b",
    "wish": "id:i* key:s! name:s pattern_id:i>pattern.id blank_id:i>part.id count:i due:d customer:s"
    " refill_id:i?>part.id extra_diameter:s? price:b? state:s",
    "wish_plating": "wish_id:i*>wish.id position:i* plating_id:i>plating.id",
    "document": "id:i* kind:s title:s on_date:d booked_at:s fingerprint:s reverses:i?>document.id turn:i",
    "lot": "id:i* document_id:i>document.id part_id:i>part.id name:s received_on:d? opened_on:d? use_by:d?"
    " smallest_diameter:s? length:s?",
    "purchase": "id:i* document_id:i>document.id supplier_id:i>supplier.id part_id:i>part.id expected_on:d? code:s"
    " pack:b",
    "movement": "id:i* document_id:i>document.id account:s part_id:i>part.id lot_id:i?>lot.id"
    " purchase_id:i?>purchase.id wish_id:i?>wish.id quantity:b cost:b reason:s stage:s",
    "wish_step": "document_id:i*>document.id wish_id:i*>wish.id state:s",
    "doubt": "document_id:i*>document.id part_id:i*>part.id doubtful:t",
    "imprint": "fingerprint:s* document_id:i!>document.id",
    "shop": "id:i* version:b currency:s program:s",
    "setting": "key:s* value:s",
    "lot_balance": "lot_id:i*>lot.id part_id:i>part.id quantity:b cost:b claimed:b",
    "part_balance": "part_id:i*>part.id on_hand:b claimed:b due_in:b due_claimed:b to_buy:b to_count:t",
    "claim_balance": "id:i* wish_id:i>wish.id part_id:i>part.id account:s lot_id:i?>lot.id"
    " purchase_id:i?>purchase.id quantity:b",
    "due_balance": "purchase_id:i*>purchase.id part_id:i>part.id quantity:b cost:b claimed:b",
}
LAYER = {
    "claimed": "claimed >= 0 AND claimed <= quantity",
    "layer": "quantity >= 0 AND cost >= 0 AND (quantity > 0 OR cost = 0)",
}
CHECKS = {
    "bill_line": {
        "names_one_thing": "(part_id IS NOT NULL AND role IS NULL AND taken_id IS NULL)"
        " OR (part_id IS NULL AND role IS NOT NULL AND taken_id IS NULL)"
        " OR (part_id IS NULL AND role IS NULL AND taken_id IS NOT NULL)"
    },
    "shop": {"one_row": "id = 1"},
    "lot_balance": LAYER,
    "due_balance": LAYER,
    "part_balance": {
        "shelf": "claimed >= 0 AND claimed <= on_hand",
        "due": "due_claimed >= 0 AND due_claimed <= due_in",
        "to_buy": "to_buy >= 0",
    },
    "claim_balance": {"quantity": "quantity > 0"},
}
UNIQUE = {"offer": ("part_id", "supplier_id", "pack", "code")}
APPEND_ONLY = {
    **dict.fromkeys(("document", "lot", "purchase", "movement"), ("id",)),
    "wish_step": ("document_id", "wish_id"),
    "doubt": ("document_id", "part_id"),
}


def upgrade() -> None:
    """Create every table, each after the ones it refers to, then the triggers that keep what was written."""
    for name, text in TABLES.items():
        make(name, text, CHECKS.get(name), UNIQUE.get(name, ()))
    index("ux_document_reverses", "document", "reverses", unique=True)
    for of in ("lot_balance", "due_balance"):
        index(f"ix_{of}_open", of, "part_id", where="quantity > 0")
    for of, on in (
        *(("kit", "family_id"), ("lot", "part_id"), ("wish_step", "wish_id"), ("doubt", "part_id")),
        *(("movement", "document_id"), ("movement", "part_id account"), ("claim_balance", "wish_id")),
    ):
        index(f"ix_{of}_{'_'.join(on.split())}", of, on)
    guarding()
    for name, keys in APPEND_ONLY.items():
        guard(name, keys)
