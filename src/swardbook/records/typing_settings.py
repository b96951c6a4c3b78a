"""Django settings for the type checker; the running program builds its own in `setup`."""

SECRET_KEY = "only for the type checker"
INSTALLED_APPS = ["swardbook.records"]
DATABASES = {"default": {"ENGINE": "django.db.backends.sqlite3", "NAME": ":memory:"}}
USE_TZ = True
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
