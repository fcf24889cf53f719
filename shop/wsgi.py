"""What a web server calls."""

import gc
import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")

application = get_wsgi_application()

# A plan makes a hundred thousand objects that live for milliseconds, and no cycles: a search for those after
# every 700 takes a twentieth of its time. What is loaded by now stays for good and is not searched at all.
gc.set_threshold(50_000, 20, 20)
gc.freeze()
