"""What a web server calls."""

import gc
import os

from django.core.wsgi import get_wsgi_application

from shop.tidying import Tidying

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")

application = get_wsgi_application()

# A plan makes a hundred thousand objects that live for milliseconds, and hardly a cycle.
# What is loaded by now stays for good and is not searched at all.
gc.freeze()
Tidying().start()
