"""What every derived table must add up to, as statements over the lines that run alike on SQLite and PostgreSQL."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from inventory.ledger.book import FIELDS


@dataclass(frozen=True, slots=True)
class Sums:
    """One derived table. keys: its columns that say what of; fields: kept column to its sum over the lines.

    where: which lines count. called: how a row is called, by its keys and the columns of `names`, a SELECT of what
    is wanted of each row's keys `named_by`. words: how each field is called.
    """

    table: str
    keys: tuple[str, ...]
    fields: Mapping[str, str]
    where: str
    called: str
    names: str
    shown: tuple[str, ...]
    named_by: tuple[str, ...]
    words: Mapping[str, str]

    def query(self) -> str:
        """Kept and recomputed figures side by side, only where one of them differs."""
        keys = ", ".join(self.keys)
        computed = ", ".join(
            f"0 AS k_{field}, SUM({value}) AS s_{field}" for field, value in self.fields.items()
        )
        kept = ", ".join(f"{field} AS k_{field}, 0 AS s_{field}" for field in self.fields)
        both = ", ".join(f"SUM(k_{field}) AS k_{field}, SUM(s_{field}) AS s_{field}" for field in self.fields)
        differ = " OR ".join(f"SUM(k_{field}) <> SUM(s_{field})" for field in self.fields)
        return (
            f"SELECT x.*, {', '.join(f'n.{column}' for column in self.shown)} FROM (SELECT {keys}, {both} FROM ("
            f"SELECT {keys}, {computed} FROM movement WHERE {self.where} GROUP BY {keys}"
            f" UNION ALL SELECT {keys}, {kept} FROM {self.table}) sides GROUP BY {keys} HAVING {differ}) x"
            f" LEFT JOIN ({self.names}) n ON {' AND '.join(f'x.{key} = n.{key}' for key in self.named_by)}"
            f" ORDER BY {', '.join(f'x.{key}' for key in self.keys)}"
        )

    def differing(self, row: Mapping[str, Any]) -> dict[str, tuple[Any, Any]]:
        """Kept and recomputed figure of each field that differs."""
        pairs = {field: (int(row[f"k_{field}"]), int(row[f"s_{field}"])) for field in self.fields}
        return {field: pair for field, pair in pairs.items() if pair[0] != pair[1]}

    @staticmethod
    def in_thousandths(field: str) -> bool:
        """Whether a field counts quantities; costs are minor units, and where they come from is a mark."""
        return field not in ("cost", "cost_from")


def _when(accounts: str, value: str) -> str:
    return f"CASE WHEN account {accounts} THEN {value} ELSE 0 END"


_LOT_NAMES = "SELECT lot.id AS lot_id, part.name AS name FROM lot JOIN part ON part.id = lot.part_id"
_DUE_NAMES = "SELECT p.id AS purchase_id, part.name AS name FROM purchase p JOIN part ON part.id = p.part_id"
_CLAIM_NAMES = (
    "SELECT customer_order.id AS order_id, customer_order.name AS order_name, part.id AS part_id, part.name"
    " FROM customer_order CROSS JOIN part"
)

BALANCES = (
    Sums(
        table="part_balance",
        keys=("part_id",),
        fields={name: _when(f"= '{account}'", "quantity") for account, name in FIELDS.items()},
        where="1 = 1",
        called="“{name}”",
        names="SELECT id AS part_id, name FROM part",
        shown=("name",),
        named_by=("part_id",),
        words={
            "on_hand": "on hand",
            "claimed": "set aside",
            "due_in": "due in",
            "due_claimed": "set aside of what is due in",
            "to_buy": "to buy",
        },
    ),
    Sums(
        table="lot_balance",
        keys=("lot_id",),
        fields={
            "quantity": _when("= 'shelf'", "quantity"),
            "cost": _when("= 'shelf'", "cost"),
            "claimed": _when("= 'claim'", "quantity"),
            "cost_from": _when("= 'shelf'", "cost_from"),
        },
        where="lot_id IS NOT NULL AND account IN ('shelf', 'claim')",
        called="Lot {lot_id} of “{name}”",
        names=_LOT_NAMES,
        shown=("name",),
        named_by=("lot_id",),
        words={
            "quantity": "the quantity",
            "cost": "the cost",
            "claimed": "what is set aside of it",
            "cost_from": "the mark of where its cost comes from",
        },
    ),
    Sums(
        table="due_balance",
        keys=("purchase_id",),
        fields={
            "quantity": _when("= 'due'", "quantity"),
            "cost": _when("= 'due'", "cost"),
            "claimed": _when("= 'due claim'", "quantity"),
        },
        where="purchase_id IS NOT NULL AND account IN ('due', 'due claim')",
        called="Purchase {purchase_id} of “{name}”",
        names=_DUE_NAMES,
        shown=("name",),
        named_by=("purchase_id",),
        words={"quantity": "the quantity due in", "cost": "the cost", "claimed": "what is set aside of it"},
    ),
    Sums(
        table="claim_balance",
        keys=("order_id", "part_id", "account", "lot_id", "purchase_id"),
        fields={"quantity": "quantity"},
        where="account IN ('claim', 'due claim', 'to buy')",
        called="The order “{order_name}” and “{name}” ({account})",
        names=_CLAIM_NAMES,
        shown=("name", "order_name"),
        named_by=("order_id", "part_id"),
        words={"quantity": "the quantity"},
    ),
)

_STATE = (
    "SELECT customer_order.name AS name, customer_order.state AS kept, COALESCE(step.state, 'wish') AS said"
    " FROM customer_order"
    " LEFT JOIN order_step step ON step.order_id = customer_order.id AND step.document_id ="
    " (SELECT MAX(later.document_id) FROM order_step later WHERE later.order_id = customer_order.id)"
    " WHERE customer_order.state <> COALESCE(step.state, 'wish') ORDER BY customer_order.id"
)
_SESSIONS = (
    "SELECT s.name AS name, s.state AS kept, COALESCE(step.state, 'dropped') AS said FROM making_session s"
    " LEFT JOIN session_step step ON step.session_id = s.id AND step.document_id ="
    " (SELECT MAX(later.document_id) FROM session_step later WHERE later.session_id = s.id)"
    " WHERE s.state <> COALESCE(step.state, 'dropped') ORDER BY s.id"
)
_DOUBTS = (
    "SELECT part.name AS name, CASE WHEN part_balance.to_count THEN 'is' ELSE 'is not' END AS kept FROM part_balance"
    " JOIN part ON part.id = part_balance.part_id"
    " LEFT JOIN doubt ON doubt.part_id = part.id AND doubt.document_id ="
    " (SELECT MAX(later.document_id) FROM doubt later WHERE later.part_id = part.id)"
    " WHERE CASE WHEN part_balance.to_count THEN 1 ELSE 0 END"
    " <> CASE WHEN COALESCE(doubt.doubtful, FALSE) THEN 1 ELSE 0 END ORDER BY part.id"
)
_ONCE_BELOW = (
    "SELECT DISTINCT b.lot_id AS lot_id, part.name AS name FROM"
    " (SELECT lot_id, SUM(q) OVER w AS left_then, SUM(c) OVER w AS cost_then FROM"
    " (SELECT lot_id, document_id, SUM(quantity) AS q, SUM(cost) AS c FROM movement WHERE account = 'shelf'"
    " GROUP BY lot_id, document_id) a WINDOW w AS (PARTITION BY lot_id ORDER BY document_id)) b"
    " JOIN lot ON lot.id = b.lot_id JOIN part ON part.id = lot.part_id WHERE left_then < 0 OR cost_then < 0"
)
LAYERS = (
    (_STATE, "The order “{name}” is kept as {kept}, the entries say {said}."),
    (_SESSIONS, "The session of {name} is kept as {kept}, the entries say {said}."),
    (_DOUBTS, "“{name}” {kept} on the list for counting, which the entries do not say."),
    (
        "SELECT document_id AS number, what FROM expense WHERE amount <= 0 OR what = '' ORDER BY document_id, position",
        "Entry {number} says nothing was spent ({what}).",
    ),
    (_ONCE_BELOW, "Lot {lot_id} of “{name}” was once below nothing."),
    (
        "SELECT id AS line, account FROM movement WHERE (account = 'shelf' AND lot_id IS NULL)"
        " OR (account = 'due' AND purchase_id IS NULL)"
        " OR (account IN ('claim', 'due claim', 'to buy') AND order_id IS NULL)"
        " OR account NOT IN ('shelf', 'claim', 'due', 'due claim', 'to buy')",
        "Line {line} ({account}) does not say what it is about.",
    ),
    (
        "SELECT movement.id AS line FROM movement LEFT JOIN lot ON lot.id = movement.lot_id"
        " LEFT JOIN purchase ON purchase.id = movement.purchase_id"
        " WHERE lot.part_id <> movement.part_id OR purchase.part_id <> movement.part_id",
        "Line {line} is about another part than its lot or purchase.",
    ),
    (
        "SELECT part.name AS name FROM lot JOIN part ON part.id = lot.part_id"
        " LEFT JOIN lot_balance ON lot_balance.lot_id = lot.id AND lot_balance.part_id = lot.part_id"
        " WHERE lot_balance.lot_id IS NULL"
        " UNION ALL SELECT part.name FROM purchase JOIN part ON part.id = purchase.part_id LEFT JOIN due_balance"
        " ON due_balance.purchase_id = purchase.id AND due_balance.part_id = purchase.part_id"
        " WHERE due_balance.purchase_id IS NULL"
        " UNION ALL SELECT part.name FROM part LEFT JOIN part_balance ON part_balance.part_id = part.id"
        " WHERE part_balance.part_id IS NULL",
        "A balance of “{name}” is missing, or is another part's.",
    ),
)
