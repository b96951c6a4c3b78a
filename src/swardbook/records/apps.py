"""The Django app of the records."""

from django.apps import AppConfig


class RecordsConfig(AppConfig):
    """Its name and label."""

    name = "swardbook.records"
    label = "records"
