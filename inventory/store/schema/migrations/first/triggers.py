"""Version 1: what was written down stays as it was written, enforced by the database itself."""

from __future__ import annotations

from alembic import op

APPEND_ONLY = ("document", "lot", "purchase", "movement", "wish_step", "doubt")
_KEYS = {"wish_step": ("document_id", "wish_id"), "doubt": ("document_id", "part_id")}


def create() -> None:
    """Triggers that refuse to change or delete a row, in the words of the server at hand."""
    if op.get_bind().dialect.name == "postgresql":
        _postgresql()
    else:
        _sqlite()


def _sqlite() -> None:
    for name in APPEND_ONLY:
        refuse = f"BEGIN SELECT RAISE(ABORT, 'rows of {name} are never changed'); END"
        for event in ("UPDATE", "DELETE"):
            op.execute(f"CREATE TRIGGER {name}_no_{event.lower()} BEFORE {event} ON {name} {refuse}")
        # INSERT OR REPLACE deletes without asking the trigger above
        same = " AND ".join(f"{key} = NEW.{key}" for key in _KEYS.get(name, ("id",)))
        op.execute(
            f"CREATE TRIGGER {name}_no_replace BEFORE INSERT ON {name}"
            f" WHEN EXISTS (SELECT 1 FROM {name} WHERE {same}) {refuse}"
        )


def _postgresql() -> None:
    op.execute(
        "CREATE FUNCTION never_changed() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN"
        " RAISE EXCEPTION 'rows of % are never changed', TG_TABLE_NAME; END $$"
    )
    for name in APPEND_ONLY:
        op.execute(
            f"CREATE TRIGGER {name}_no_update BEFORE UPDATE OR DELETE ON {name}"
            " FOR EACH ROW EXECUTE FUNCTION never_changed()"
        )
        op.execute(
            f"CREATE TRIGGER {name}_no_truncate BEFORE TRUNCATE ON {name}"
            " FOR EACH STATEMENT EXECUTE FUNCTION never_changed()"
        )
