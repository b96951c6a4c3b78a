"""Sendings that were answered, so that one that comes again writes nothing."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("records", "0010_jobs")]
    operations = [
        migrations.CreateModel(
            name="AnsweredRow",
            fields=[
                ("id", models.BigAutoField(
                    auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                )),
                ("mark", models.CharField(max_length=64)),
                ("answer", models.TextField()),
                ("at", models.DateTimeField(db_index=True)),
                ("ground", models.ForeignKey(
                    on_delete=django.db.models.deletion.CASCADE, related_name="+",
                    to="records.groundrow",
                )),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(
                        fields=("ground", "mark"), name="one_answer_of_each_sending"
                    )
                ],
            },
        ),
    ]  # fmt: skip
