"""What Django is told for the pages; the records' own part is theirs."""

from __future__ import annotations

import secrets
from typing import Any

LOOPBACK = ("127.0.0.1", "localhost", "[::1]")
"""Names under which the own machine is reached; pages answer to no other."""


def pages_settings() -> dict[str, Any]:
    """Give the settings that pages need besides those of the records."""
    return {
        "INSTALLED_APPS": ["django.contrib.staticfiles", "swardbook.web"],
        "ROOT_URLCONF": "swardbook.web.urls",
        "SECRET_KEY": secrets.token_urlsafe(50),
        "ALLOWED_HOSTS": list(LOOPBACK),
        "MIDDLEWARE": [
            "django.middleware.security.SecurityMiddleware",
            "django.middleware.gzip.GZipMiddleware",
            "whitenoise.middleware.WhiteNoiseMiddleware",
            "swardbook.web.guarding.with_policy",
            "django.middleware.common.CommonMiddleware",
            "django.middleware.csrf.CsrfViewMiddleware",
            "django.middleware.clickjacking.XFrameOptionsMiddleware",
            "swardbook.web.guarding.with_refusals",
        ],
        "TEMPLATES": [
            {
                "BACKEND": "django.template.backends.django.DjangoTemplates",
                "APP_DIRS": True,
                "OPTIONS": {
                    "context_processors": ["swardbook.web.every_page.of_every_page"],
                    "builtins": [
                        "django.templatetags.i18n",
                        "django.templatetags.static",
                        "swardbook.web.saying",
                    ],
                },
            }
        ],
        "STATIC_URL": "/static/",
        "WHITENOISE_USE_FINDERS": True,
        "WHITENOISE_ALLOW_ALL_ORIGINS": False,
        "WHITENOISE_MAX_AGE": 60,
        "CSRF_COOKIE_SAMESITE": "Strict",
        "CSRF_FAILURE_VIEW": "swardbook.web.guarding.form_too_old",
        "X_FRAME_OPTIONS": "DENY",
        "SECURE_REFERRER_POLICY": "same-origin",
        "USE_I18N": True,
        "LANGUAGE_CODE": "en-gb",
        "DATE_FORMAT": "j F Y",
    }
