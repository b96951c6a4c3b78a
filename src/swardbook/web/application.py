"""What the server runs: ``granian swardbook.web.application:application``."""

from __future__ import annotations

from django.core.wsgi import get_wsgi_application

from swardbook.book.opening import prepare_pages
from swardbook.web.wiring import pages_settings

prepare_pages(pages_settings())
application = get_wsgi_application()
