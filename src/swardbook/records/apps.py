"""The Django app of the records."""

from importlib import import_module

from django.apps import AppConfig


class RecordsConfig(AppConfig):
    """Its name and label."""

    name = "swardbook.records"
    label = "records"

    def import_models(self) -> None:
        """Make the tables of the diary, those of people, of jobs and of answers known."""
        super().import_models()
        import_module("swardbook.records.people_models")
        import_module("swardbook.records.job_models")
        import_module("swardbook.records.answered_models")
