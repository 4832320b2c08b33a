"""Tables, indexes and guards of a step, in the notation of `schema.notation`.

Frozen like the steps that use it: what it makes of a text must stay what it made of it when the step was new.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import sqlalchemy as sa
from alembic import op

from inventory.store.schema.notation import Short, columns


def make(
    name: str,
    text: str,
    checks: Mapping[str, str] | None = None,
    unique: Sequence[str] = (),
    *,
    sorted_: bool = True,
) -> None:
    """One table. checks: conditions by name; unique: columns unique together; sorted_: references by column name."""
    found = list(columns(text))
    refer = [one for one in found if one.target]
    alone = [[one.name] for one in found if "!" in one.marks]
    op.create_table(
        name,
        *(sa.Column(c.name, c.type(), nullable="?" in c.marks, autoincrement=False) for c in found),
        *(sa.CheckConstraint(said, name=op.f(f"ck_{name}_{call}")) for call, said in (checks or {}).items()),
        *(_reference(name, one) for one in (sorted(refer) if sorted_ else refer)),
        sa.PrimaryKeyConstraint(*(c.name for c in found if "*" in c.marks), name=op.f(f"pk_{name}")),
        *(
            sa.UniqueConstraint(*some, name=op.f(f"uq_{name}_{'_'.join(some)}"))
            for some in (*alone, *([unique] if unique else ()))
        ),
    )


def _reference(name: str, of: Short) -> sa.ForeignKeyConstraint:
    other = of.target.partition(".")[0]
    return sa.ForeignKeyConstraint([of.name], [of.target], name=op.f(f"fk_{name}_{of.name}_{other}"))


def index(name: str, of: str, on: str, *, unique: bool = False, where: str = "") -> None:
    """An index on columns (words of `on`), of the rows where a condition holds."""
    only = sa.text(where) if where else None
    op.create_index(name, of, on.split(), unique=unique, sqlite_where=only, postgresql_where=only)


def guard(name: str, keys: Sequence[str]) -> None:
    """Triggers by which the database itself refuses to change or delete a row of a table with these keys."""
    if op.get_bind().dialect.name == "postgresql":
        for trigger, on, each in (
            ("update", "UPDATE OR DELETE", "ROW"),
            ("truncate", "TRUNCATE", "STATEMENT"),
        ):
            op.execute(
                f"CREATE TRIGGER {name}_no_{trigger} BEFORE {on} ON {name}"
                f" FOR EACH {each} EXECUTE FUNCTION never_changed()"
            )
        return
    refuse = f"BEGIN SELECT RAISE(ABORT, 'rows of {name} are never changed'); END"
    for event in ("UPDATE", "DELETE"):
        op.execute(f"CREATE TRIGGER {name}_no_{event.lower()} BEFORE {event} ON {name} {refuse}")
    # INSERT OR REPLACE deletes without asking the trigger above
    same = " AND ".join(f"{key} = NEW.{key}" for key in keys)
    op.execute(
        f"CREATE TRIGGER {name}_no_replace BEFORE INSERT ON {name}"
        f" WHEN EXISTS (SELECT 1 FROM {name} WHERE {same}) {refuse}"
    )


def guarding() -> None:
    """What the guards of a server call; once, before the first of them."""
    if op.get_bind().dialect.name == "postgresql":
        op.execute(
            "CREATE FUNCTION never_changed() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN"
            " RAISE EXCEPTION 'rows of % are never changed', TG_TABLE_NAME; END $$"
        )
