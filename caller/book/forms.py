"""The tables of the class book's file, as SQL: all forms that it has had."""

from __future__ import annotations

from caller.book.spelling import folded

# What leads from each form to the next: an empty file is of form 0. All that is there stays as it is.
FORMS = (
    """
CREATE TABLE class (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE);
CREATE TABLE taught (
    id INTEGER PRIMARY KEY, class INTEGER NOT NULL REFERENCES class ON DELETE CASCADE, at TEXT NOT NULL,
    routine TEXT NOT NULL, way TEXT NOT NULL, part TEXT NOT NULL, stage INTEGER NOT NULL, stages INTEGER NOT NULL,
    tempo TEXT, full TEXT);
CREATE TABLE note (
    id INTEGER PRIMARY KEY, class INTEGER NOT NULL REFERENCES class ON DELETE CASCADE, at TEXT NOT NULL,
    routine TEXT NOT NULL, words TEXT NOT NULL);
""",
    """
ALTER TABLE taught ADD COLUMN attended TEXT NOT NULL DEFAULT 'yes';
CREATE TABLE mark (
    id INTEGER PRIMARY KEY, class INTEGER NOT NULL REFERENCES class ON DELETE CASCADE, at TEXT NOT NULL,
    routine TEXT NOT NULL, mark TEXT NOT NULL);
""",
    "ALTER TABLE taught ADD COLUMN since INTEGER NOT NULL DEFAULT 1;",
    # Classes that differ in case or spacing alone are one, by the name of the first.
    "".join(
        f"UPDATE {table} SET class = (SELECT min(first.id) FROM class AS first JOIN class AS own"
        f" ON folded(first.name) = folded(own.name) WHERE own.id = {table}.class);"
        for table in ("taught", "note", "mark")
    )
    + "DELETE FROM class WHERE id NOT IN (SELECT min(id) FROM class GROUP BY folded(name));",
)


def as_compared(name: str | bytes) -> str | bytes:
    """For SQLite's ``folded``: a name as names are compared; what is no text, which no class is found by, as it is."""
    return folded(name) if isinstance(name, str) else name
