"""What the server runs: ``granian swardbook.web.application:application``."""

from __future__ import annotations

import os

from django.core.wsgi import get_wsgi_application

from swardbook.book.opening import prepare_pages
from swardbook.book.serving import ENVIRONMENT, kept_key, read_served
from swardbook.settings import read_settings
from swardbook.web import daily_copies, warming
from swardbook.web.watching import keep_addresses_out
from swardbook.web.wiring import pages_settings

settings = read_settings(os.environ)
prepare_pages(pages_settings(read_served(os.environ.get(ENVIRONMENT, "")), kept_key(settings)))
daily_copies.begin(settings)
keep_addresses_out()
application = get_wsgi_application()
warming.begin()
