"""Where a forecast was fetched, and the other courses that were told."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("records", "0007_tokens")]
    operations = [
        migrations.AddField("ForecastSeries", "about", models.TextField(default="")),
        migrations.AddField("ForecastSeries", "members", models.TextField(default="")),
    ]
