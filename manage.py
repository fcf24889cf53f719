#!/usr/bin/env python3
"""Kitwright's one command: `python3 manage.py help` lists what it does."""

import os
import sys

from shop.bootstrap import ensure_environment

if __name__ == "__main__":
    ensure_environment(sys.argv)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")

    from shop.runtime.commands import run

    sys.exit(run(sys.argv))
