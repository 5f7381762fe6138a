"""Open a studio of its own for a bench, and run it: python -m tests.bench live_plan.

The settings are a studio's, the database a new SQLite file in a folder that goes when the bench ends. Django
must be set up before a bench can import models, so the bench is imported only then.
"""

import os
import secrets
import sys
import tempfile
from importlib import import_module

import django
from django.conf import settings
from django.core.management import call_command

BENCHES = ("live_plan", "card", "lists")
"""In this order: the lists fill the studio up."""
STATIC_FILES = "django.contrib.staticfiles.storage.ManifestStaticFilesStorage"
"""As in a studio, but nothing is compressed: that takes longer than the benches, and no request does it."""


def open_studio(folder: str) -> None:
    """Set Django up on an empty database, and load the invented studio."""
    for name in [name for name in os.environ if name.startswith("WARPROOM_")]:
        del os.environ[name]
    os.environ.pop("DATABASE_URL", None)
    os.environ |= {
        "WARPROOM_SECRET_KEY": secrets.token_urlsafe(50),
        "WARPROOM_DATA_DIR": folder,
        "WARPROOM_BASE_URL": "http://testserver",
        "WARPROOM_HTTPS": "off",
        "DJANGO_SETTINGS_MODULE": "studio.settings",
    }
    settings.STORAGES = {**settings.STORAGES, "staticfiles": {"BACKEND": STATIC_FILES}}
    settings.LOGGING = {"version": 1, "disable_existing_loggers": True}
    django.setup()
    call_command("migrate", verbosity=0)
    call_command("collectstatic", interactive=False, verbosity=0)
    import_module("planner.demo.loading").load_studio()


def main() -> None:
    """Run the benches named, or all, one after the other."""
    wanted = sys.argv[1:] or BENCHES
    unknown = set(wanted) - set(BENCHES)
    if unknown:
        sys.exit(f"No bench {', '.join(sorted(unknown))}. There are: {', '.join(BENCHES)}.")
    with tempfile.TemporaryDirectory(prefix="warproom-bench-") as folder:
        open_studio(folder)
        for name in (name for name in BENCHES if name in wanted):
            import_module(f"tests.bench.bench_{name}").main()


if __name__ == "__main__":
    main()
