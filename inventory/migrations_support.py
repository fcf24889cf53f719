"""Operations that migrations of every app may use."""

from pathlib import Path

from django.db import migrations

SQL_FOLDER = Path(__file__).parent / "migrations" / "sql"


def runs_sql_file(name: str) -> migrations.RunSQL:
    """Run one SQL file of the inventory's migrations, and its `_undo` twin backwards."""
    # A list with one statement keeps the text whole: splitting would cut function bodies apart.
    forwards = (SQL_FOLDER / f"{name}.sql").read_text(encoding="utf-8")
    backwards = (SQL_FOLDER / f"{name}_undo.sql").read_text(encoding="utf-8")
    return migrations.RunSQL([(forwards, None)], [(backwards, None)])


def bumps_catalogue_version(table: str) -> migrations.RunSQL:
    """Attach the trigger that raises the catalogue version whenever a statement changes `table`."""
    return migrations.RunSQL(
        f"CREATE TRIGGER {table}_bumps_catalogue AFTER INSERT OR UPDATE OR DELETE OR TRUNCATE ON {table} "
        "FOR EACH STATEMENT EXECUTE FUNCTION inventory_bump_catalogue();",
        f"DROP TRIGGER {table}_bumps_catalogue ON {table};",
    )
