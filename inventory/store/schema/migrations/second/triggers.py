"""Version 2: what sessions wrote down stays as it was written."""

from __future__ import annotations

from alembic import op

APPEND_ONLY = {
    "session_plan": ("session_id", "position"),
    "session_step": ("document_id", "session_id"),
    "outcome": ("document_id", "position"),
    "outcome_loss": ("document_id", "position", "stage"),
    "observed": ("document_id", "part_id"),
    "rate_word": ("document_id", "part_id", "per"),
}


def create() -> None:
    """Triggers like those of the first version, on the new tables."""
    for name, keys in APPEND_ONLY.items():
        if op.get_bind().dialect.name == "postgresql":
            _postgresql(name)
        else:
            _sqlite(name, keys)


def _sqlite(name: str, keys: tuple[str, ...]) -> None:
    refuse = f"BEGIN SELECT RAISE(ABORT, 'rows of {name} are never changed'); END"
    for event in ("UPDATE", "DELETE"):
        op.execute(f"CREATE TRIGGER {name}_no_{event.lower()} BEFORE {event} ON {name} {refuse}")
    same = " AND ".join(f"{key} = NEW.{key}" for key in keys)
    op.execute(
        f"CREATE TRIGGER {name}_no_replace BEFORE INSERT ON {name}"
        f" WHEN EXISTS (SELECT 1 FROM {name} WHERE {same}) {refuse}"
    )


def _postgresql(name: str) -> None:
    op.execute(
        f"CREATE TRIGGER {name}_no_update BEFORE UPDATE OR DELETE ON {name}"
        " FOR EACH ROW EXECUTE FUNCTION never_changed()"
    )
    op.execute(
        f"CREATE TRIGGER {name}_no_truncate BEFORE TRUNCATE ON {name}"
        " FOR EACH STATEMENT EXECUTE FUNCTION never_changed()"
    )
