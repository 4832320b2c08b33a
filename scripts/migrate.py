"""A step of the tables, written from what the SQLModel classes say now; read it before it is kept.

    python3 scripts/migrate.py "drawer colour"     also --look: print the step and write nothing

After a column was added to a class in inventory/store/schema/models/, and before that is committed: keeps a book of
the tables as they were in tests/store/earlier/ (the walk of scripts/demo.py, and what three commands say of it),
writes the generated columns anew, and writes the next file in inventory/store/schema/migrations/versions/. A column
that may not be empty is given the class's own default for the rows that are there. What alembic cannot see is yours to
add: rows to be worked out, guards (`steps.tables.guard`) on a table that is only written to, CHECK constraints on a
table that is there already.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from contextlib import closing
from pathlib import Path
from typing import Any, Literal

from environment import PYTHON, ROOT, Stopped, elsewhere, surroundings

EARLIER = ROOT / "tests" / "store" / "earlier"
SAID = ("shelf", "orders", "due-in")
TEMPLATE = '''"""{title}.

Revision ID: {after}
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "{after}"
down_revision = "{before}"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """What the classes say beyond version {before}."""
    {work}
'''


def main(arguments: list[str]) -> int:
    """Write the step; the exit code."""
    code = elsewhere(__file__, arguments, "test")
    if code is not None:
        return code
    look, words = "--look" in arguments, " ".join(word for word in arguments if word != "--look")
    if not words:
        raise Stopped('Say what the step is for: scripts/migrate.py "drawer colour"', 2)
    os.chdir(ROOT)
    from inventory.store.schema import version
    from inventory.store.schema.models import METADATA

    with tempfile.TemporaryDirectory(prefix="kitdrawer-migrate-") as folder:
        work = difference(Path(folder) / "empty.kitdrawer", METADATA)
        if not work:
            print("The classes say nothing that the tables do not have.")
            return 1
        text = step(words, version.HEAD, work)
        if look:
            print(text)
            return 0
        keep_book(Path(folder), version.HEAD)
    target = (
        version.STEPS / "versions" / f"v{_next(version.HEAD)}_{re.sub(r'[^a-z0-9]+', '_', words.lower())}.py"
    )
    target.write_text(text, encoding="utf-8", newline="\n")
    _run(PYTHON, "-m", "ruff", "format", target)
    _run(PYTHON, "-m", "inventory.store.schema.generate")
    print(f"Written: {target.relative_to(ROOT)}. Read it, then run scripts/test.py tests/store.")
    return 0


def difference(file: Path, metadata: Any) -> str:
    """What the tables of a metadata have beyond those the steps make, as lines of Python; empty where nothing.

    file: where nothing is yet; an empty book of this version is begun there.
    """
    from alembic.autogenerate import produce_migrations, render_python_code
    from alembic.migration import MigrationContext

    from inventory.store import begin

    with begin(file, "EUR") as store, store.engine.connect() as connection:
        options = {"compare_type": True, "render_item": _plain, "target_metadata": metadata}
        context = MigrationContext.configure(connection, opts=options)
        found = produce_migrations(context, metadata).upgrade_ops
        if found is None or found.is_empty():
            return ""
        for one in found.ops:
            _for_rows_there(one)
        lines = render_python_code(found, migration_context=context, render_item=_plain)
    return "\n".join(line for line in lines.splitlines() if not line.lstrip().startswith("# ###")).strip()


def _plain(kind: str, of: object, _: object) -> str | Literal[False]:
    """A text column is plain text: no step depends on what SQLModel calls it."""
    return "sa.String()" if kind == "type" and type(of).__name__ == "AutoString" else False


def _for_rows_there(operation: Any) -> None:
    """Give new columns that may not be empty the class's default, in the database itself."""
    for inner in getattr(operation, "ops", ()):
        _for_rows_there(inner)
    column = getattr(operation, "column", None)
    if column is not None and not column.nullable and column.default is not None:
        value = column.default.arg
        column.server_default = _default(str(int(value)) if isinstance(value, bool | int) else str(value))


def _default(text: str) -> Any:
    from sqlalchemy import DefaultClause

    return DefaultClause(text)


def step(words: str, before: str, work: str) -> str:
    """The text of a version file."""
    title = words[:1].upper() + words[1:].rstrip(".")
    return TEMPLATE.format(title=title, before=before, after=_next(before), work=work)


def _next(version: str) -> str:
    return f"{int(version) + 1:04}"


def keep_book(folder: Path, version: str) -> None:
    """Walk through the invented shop with the program as it was committed, and keep that book; once a version."""
    target = EARLIER / f"v{version}.sql"
    if target.exists():
        return
    import demo

    committed, file = folder / "committed", folder / "walked.kitdrawer"
    committed.mkdir()
    _run("git", "archive", "--output", folder / "committed.tar", "HEAD", "inventory", "sample_stock")
    shutil.unpack_archive(folder / "committed.tar", committed)
    surround = {"KITDRAWER_STORE": str(file), "KITDRAWER_TODAY": demo.TODAY}
    for at in demo.WALK:
        demo.fill(folder / "saturday", at.written)
        words = [word.format(folder=folder) for word in at.words]
        _run(PYTHON, "-m", "inventory.cli", *words, inside=committed, **surround)
    for command in SAID:
        told = _run(PYTHON, "-m", "inventory.cli", command, "--json", inside=committed, **surround)
        text = json.dumps(json.loads(told), indent=1, ensure_ascii=False) + "\n"
        target.with_name(f"v{version}-{command}.json").write_text(text, encoding="utf-8", newline="\n")
    with closing(sqlite3.connect(file)) as connection:
        target.write_text("\n".join([*connection.iterdump(), ""]), encoding="utf-8", newline="\n")


def _run(*words: str | Path, inside: Path = ROOT, **more: str) -> str:
    import demo

    line = [str(word) for word in words]
    done = subprocess.run(
        line, cwd=inside, env=surroundings(**more), capture_output=True, text=True, check=False
    )
    if done.returncode not in (demo.FINE, demo.SHORT):
        raise Stopped(f"{' '.join(line)} failed: {done.stderr}")
    return done.stdout


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
