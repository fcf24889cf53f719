#!/usr/bin/env python3
"""Kitwright's one command: `python3 manage.py help` lists what it does."""

import os
import sys

if sys.version_info < (3, 6):  # noqa: UP036 -- such a Python cannot even read the next import, and is told so.
    sys.stderr.write("Kitwright needs Python 3.11, 3.12 or 3.13: run `python3.11 manage.py` instead.\n")
    sys.exit(2)

from shop.bootstrap import ensure_environment

if __name__ == "__main__":
    ensure_environment(sys.argv)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")

    from shop.runtime.commands import run

    sys.exit(run(sys.argv))
