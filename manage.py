#!/usr/bin/env python3
"""Run Warproom: `demo` and `test` set everything up first; any other word goes to Django."""

import os
import sys

from studio import bootstrap


def main() -> int:
    """Find or make the right Python, then hand over."""
    command = sys.argv[1] if len(sys.argv) > 1 else "help"
    if command == "demo":
        bootstrap.provide_demo_folder()
    bootstrap.use_right_python(command)
    if command == "test":
        return bootstrap.run_tests(sys.argv[2:])
    if command == "demo":
        bootstrap.set_demo(os.environ)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "studio.settings")
    # Only now is Django sure to be there.
    from django.core.exceptions import ImproperlyConfigured  # noqa: PLC0415
    from django.core.management import execute_from_command_line  # noqa: PLC0415

    try:
        execute_from_command_line(sys.argv)
    except ImproperlyConfigured as trouble:
        sys.exit(f"Warproom cannot start. {trouble}")
    return 0


if __name__ == "__main__":
    try:
        sys.exit(main())
    except KeyboardInterrupt:
        sys.exit("Stopped; the same command starts over.")
