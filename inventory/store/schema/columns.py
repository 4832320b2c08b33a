"""Columns of every table, written by `generate.py` from the classes in `models/`: change those, not this."""

COLUMNS = {
    "barrel": (
        "family_id:i*>family.id position:i* name:s tube_id:i?>part.id drill:s? finished_a:s? finished_b:s? "
        "length:s? usual:s"
    ),
    "bill_line": (
        "pattern_id:i*>pattern.id position:i* stage:s part_id:i?>part.id role:s? taken_id:i?>pattern.id "
        "quantity:b per:s usual:s"
    ),
    "blank": "part_id:i*>part.id material_id:i>material.id shape:s width:s? length:s? usual:s",
    "changed_row": "document_id:i*>document.id position:i* of_table:s row_key:s before:s? after:s?",
    "claim_balance": (
        "id:i* order_id:i>customer_order.id part_id:i>part.id account:s lot_id:i?>lot.id "
        "purchase_id:i?>purchase.id quantity:b"
    ),
    "customer_order": (
        "id:i* key:s! name:s pattern_id:i>pattern.id blank_id:i>part.id count:i due:d customer:s "
        "refill_id:i?>part.id extra_diameter:s? price:b? state:s blanks:s"
    ),
    "document": (
        "id:i* kind:s title:s on_date:d booked_at:s fingerprint:s reverses:i?>document.id undo_depth:i "
        "booked_by:s"
    ),
    "document_fingerprint": "fingerprint:s* document_id:i!>document.id",
    "doubt": "document_id:i*>document.id part_id:i*>part.id doubtful:t",
    "due_balance": "purchase_id:i*>purchase.id part_id:i>part.id quantity:b cost:b claimed:b",
    "expense": (
        "document_id:i*>document.id position:i* on_date:d what:s amount:b at:s order_id:i?>customer_order.id"
    ),
    "family": "id:i* key:s! name:s makes:s refill_id:i?>part.id note:s",
    "family_tool": "family_id:i*>family.id duty:s* position:i* part_id:i>part.id",
    "kit": "part_id:i*>part.id family_id:i>family.id plating_id:i>plating.id tubes_inside:t usual:s",
    "learned_loss": "material_id:i*>material.id stage:s* share:b reached:i lost:i worth:b",
    "learned_rate": (
        "part_id:i*>part.id per:s* factor:b low:b high:b sessions:i outliers:s pinned:t scatter:b points:s "
        "hands:s ordinary:b"
    ),
    "lot": (
        "id:i* document_id:i>document.id part_id:i>part.id name:s received_on:d? opened_on:d? use_by:d? "
        "smallest_diameter:s? length:s?"
    ),
    "lot_balance": "lot_id:i*>lot.id part_id:i>part.id quantity:b cost:b claimed:b cost_from:i",
    "making_session": "id:i* document_id:i>document.id name:s on_date:d state:s",
    "material": "id:i* key:s! name:s allowance:s caution:s listed_species:s usual:s",
    "material_loss": "material_id:i*>material.id position:i* stage:s share:s",
    "movement": (
        "id:i* document_id:i>document.id account:s part_id:i>part.id lot_id:i?>lot.id "
        "purchase_id:i?>purchase.id order_id:i?>customer_order.id quantity:b cost:b reason:s stage:s "
        "cost_from:i"
    ),
    "observed": "document_id:i*>document.id part_id:i*>part.id used:b error:b way:s",
    "offer": (
        "id:i* part_id:i>part.id supplier_id:i>supplier.id pack:b code:s price_group:s seen_on:d? at_most:i?"
    ),
    "old_name": "of_table:s* key:s* name:s number:i",
    "order_plating": "order_id:i*>customer_order.id position:i* plating_id:i>plating.id",
    "order_step": "document_id:i*>document.id order_id:i*>customer_order.id state:s handed:i",
    "outcome": (
        "document_id:i*>document.id position:i* order_id:i?>customer_order.id pattern_id:i>pattern.id "
        "kit_id:i>part.id blank_id:i>part.id refill_id:i?>part.id extra_diameter:s? good:i tubes_saved:i "
        "kits_saved:i in_part:i"
    ),
    "outcome_loss": "document_id:i*>document.id position:i* stage:s* pieces:i",
    "part": "id:i* key:s! name:s kind:s unit:s note:s level:b? drawer:s into_id:i?>part.id",
    "part_balance": "part_id:i*>part.id on_hand:b claimed:b due_in:b due_claimed:b to_buy:b to_count:t",
    "pattern": "id:i* key:s! name:s family_id:i>family.id note:s minutes:i? finish:s",
    "payment": "document_id:i*>document.id order_id:i*>customer_order.id amount:b",
    "piece": (
        "part_id:i*>part.id pattern_id:i>pattern.id kit_id:i>part.id blank_id:i>part.id refill_id:i?>part.id "
        "extra_diameter:s?"
    ),
    "plating": "id:i* key:s! name:s",
    "plating_substitute": "plating_id:i*>plating.id position:i* substitute_id:i>plating.id",
    "price_step": "offer_id:i*>offer.id from_packs:i* price:b",
    "purchase": (
        "id:i* document_id:i>document.id supplier_id:i>supplier.id part_id:i>part.id expected_on:d? code:s "
        "pack:b"
    ),
    "rate_word": "document_id:i*>document.id part_id:i*>part.id per:s* word:s factor:b",
    "retired": "of_table:s* number:i*",
    "session_plan": (
        "session_id:i*>making_session.id position:i* order_id:i>customer_order.id kit_id:i>part.id starts:i"
    ),
    "session_step": "document_id:i*>document.id session_id:i*>making_session.id state:s",
    "setting": "key:s* value:s",
    "sheet_row": "sheet:s* tab:s* row:s*",
    "shop": "id:i* version:b currency:s program:s mark:s",
    "supplier": (
        "id:i* key:s! name:s lead_days:i? postage:b free_from:b? minimum_order:b? currency:s email:s note:s"
    ),
    "supply": (
        "part_id:i*>part.id type:s net:b? tare:b? keeps_sealed:i? keeps_opened:i? hazards:s density:s? "
        "works:i? usual:s"
    ),
    "tool": "part_id:i*>part.id type:s size:s life:b?",
    "tube": "part_id:i*>part.id outside:s length:s drill:s usual:s",
}
