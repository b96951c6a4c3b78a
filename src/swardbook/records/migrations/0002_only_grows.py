"""Entries and kept results cannot be changed or deleted, whoever asks."""

from typing import Any

from django.db import migrations

GROWING = ("records_entry", "records_kept")


def forbid(apps: Any, schema_editor: Any) -> None:
    vendor = schema_editor.connection.vendor
    if vendor == "postgresql":
        schema_editor.execute(
            "CREATE FUNCTION records_only_grows() RETURNS trigger AS"
            " $$BEGIN RAISE EXCEPTION 'the diary only grows'; END$$ LANGUAGE plpgsql"
        )
    for table in GROWING:
        if vendor == "postgresql":
            schema_editor.execute(
                f"CREATE TRIGGER {table}_only_grows BEFORE UPDATE OR DELETE ON {table}"
                " FOR EACH ROW EXECUTE FUNCTION records_only_grows()"
            )
            continue
        for change in ("UPDATE", "DELETE"):
            schema_editor.execute(
                f"CREATE TRIGGER {table}_no_{change.lower()} BEFORE {change} ON {table}"
                " BEGIN SELECT RAISE(ABORT, 'the diary only grows'); END"
            )


def allow(apps: Any, schema_editor: Any) -> None:
    vendor = schema_editor.connection.vendor
    for table in GROWING:
        if vendor == "postgresql":
            schema_editor.execute(f"DROP TRIGGER {table}_only_grows ON {table}")
            continue
        for change in ("update", "delete"):
            schema_editor.execute(f"DROP TRIGGER {table}_no_{change}")
    if vendor == "postgresql":
        schema_editor.execute("DROP FUNCTION records_only_grows()")


class Migration(migrations.Migration):
    dependencies = [("records", "0001_book")]
    operations = [migrations.RunPython(forbid, allow)]
