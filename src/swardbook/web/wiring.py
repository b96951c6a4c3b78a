"""What Django is told for the pages; the records' own part is theirs."""

from __future__ import annotations

import secrets
from typing import Any

from swardbook.book.serving import Served

LOOPBACK = ("127.0.0.1", "localhost", "[::1]")
"""Names under which the own machine is reached; pages answer to no other, but those served."""
MIDDLEWARE = (
    "swardbook.web.watching.with_watching",
    "django.middleware.security.SecurityMiddleware",
    "django.middleware.gzip.GZipMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "swardbook.web.guarding.with_policy",
    "swardbook.web.guarding.with_ground",
    "swardbook.web.guarding.with_looking",
    "django.middleware.common.CommonMiddleware",
    "swardbook.web.guarding.with_keys",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "swardbook.web.whole.with_whole_units",
    "swardbook.web.guarding.with_refusals",
)
"""What every question passes on its way in, and every answer on its way out."""
_MONTH = 30 * 86_400
OWN_MACHINE = Served()


def pages_settings(served: Served = OWN_MACHINE, key: str = "") -> dict[str, Any]:
    """Give the settings that pages need besides those of the records.

    Parameters
    ----------
    served : Served
        To whom pages are served, and how; without more said, to this machine alone.
    key : str
        The key of this installation; empty makes one for this process.
    """
    return {
        **_with_tls(served),
        "INSTALLED_APPS": ["django.contrib.staticfiles", "swardbook.web"],
        "ROOT_URLCONF": "swardbook.web.urls",
        "SECRET_KEY": key or secrets.token_urlsafe(50),
        "ALLOWED_HOSTS": [*LOOPBACK, *(f"[{x}]" if ":" in x else x for x in served.names)],
        "MIDDLEWARE": list(MIDDLEWARE),
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
        "CSRF_FAILURE_VIEW": "swardbook.web.gate.without_token",
        "X_FRAME_OPTIONS": "DENY",
        "SECURE_REFERRER_POLICY": "same-origin",
        "USE_I18N": True,
        "LANGUAGE_CODE": "en-gb",
        "DATE_FORMAT": "j F Y",
    }


def _with_tls(served: Served) -> dict[str, Any]:
    """Give what holds where the browser speaks TLS: cookies by it alone, and no way without it."""
    found: dict[str, Any] = {
        "CSRF_COOKIE_SECURE": served.has_tls,
        "SECURE_SSL_REDIRECT": served.has_tls,
        "SECURE_HSTS_SECONDS": _MONTH if served.is_certified else 0,
    }
    if served.behind_proxy:
        found["SECURE_PROXY_SSL_HEADER"] = ("HTTP_X_FORWARDED_PROTO", "https")
    return found
