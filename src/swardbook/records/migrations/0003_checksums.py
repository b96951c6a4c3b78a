"""A checksum for each piece of the ground and for the weather, so that damage there is found too."""

from typing import Any

from django.db import migrations, models

from swardbook.records.chain import FIRST, checksum


def fill(apps: Any, schema_editor: Any) -> None:
    """Vouch for the pieces of the ground as they stand; the weather is vouched for when it is next saved."""
    things = apps.get_model("records", "Thing").objects.using(schema_editor.connection.alias)
    for thing in things.all():
        thing.checksum = checksum(FIRST, thing.text)
        thing.save()


class Migration(migrations.Migration):
    dependencies = [("records", "0002_only_grows")]
    operations = [
        migrations.AddField("thing", "checksum", models.CharField(max_length=64, default="")),
        migrations.AddField(
            "weatherseries", "checksum", models.CharField(max_length=64, default="")
        ),
        migrations.RunPython(fill, migrations.RunPython.noop),
    ]
