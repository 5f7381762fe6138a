"""`manage.py demo`: the invented studio on this computer, ready to sign in to."""

import os
import socket
from argparse import ArgumentParser
from pathlib import Path
from shutil import rmtree
from typing import Any

from django.conf import settings
from django.core.management import BaseCommand, CommandError, call_command
from django.db import connections
from django.utils import timezone

from planner.demo.loading import load_studio
from planner.demo.people import MEMBERS, PASSWORD, STUDIO_NAME
from studio.calendar.notify import make_notices

HOST, PORT = "127.0.0.1", 8000
HIGHEST_PORT = 65_535


class Command(BaseCommand):
    """Make the demo's database, fill it once, say how to get in, and serve."""

    help = "Show Warproom with an invented studio. It has a database of its own and never touches a real one."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--port", type=int, default=PORT, help="port on this computer (8000)")
        parser.add_argument("--fresh", action="store_true", help="forget what was changed in the demo, and start over")
        parser.add_argument("--no-serve", action="store_true", help="only load the studio")

    def handle(self, *args: Any, **options: Any) -> None:
        """Do it all; a second run keeps what the visitor changed."""
        if not settings.DEMO:
            raise CommandError("This is not the demo's database, and it stays as it is. Type: python3 manage.py demo")
        if not options["no_serve"]:
            refuse_taken(options["port"])
        if options["fresh"]:
            connections.close_all()
            forget_database(Path(settings.DATABASES["default"]["NAME"]))
            rmtree(settings.MEDIA_ROOT, ignore_errors=True)
        call_command("migrate", interactive=False, verbosity=0)
        loaded = load_studio()
        if not loaded:
            self.stdout.write("The demo studio is as you left it; --fresh starts over.")
        make_notices(today=timezone.localdate())  # as the timer of a studio does
        self.stdout.write(welcome(options["port"]))
        self.stdout.flush()  # into a file or a pipe, it would wait there until the demo ends
        if not options["no_serve"]:
            os.environ["DJANGO_RUNSERVER_HIDE_WARNING"] = "true"
            call_command("runserver", f"{HOST}:{options['port']}", use_reloader=False)


def refuse_taken(port: int) -> None:
    """Say in one sentence that this port is not to be had, before anything is done."""
    if not 0 < port <= HIGHEST_PORT:
        raise CommandError(f"A port is a number from 1 to {HIGHEST_PORT}.")
    with socket.socket() as door:
        door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            door.bind((HOST, port))
        except OSError as trouble:
            other = port + 1 if PORT <= port < HIGHEST_PORT else PORT
            why = "may be used by the system alone" if isinstance(trouble, PermissionError) else "is taken"
            raise CommandError(f"Port {port} {why}. Try: python3 manage.py demo --port {other}") from trouble


def forget_database(database: Path) -> None:
    """Delete the demo's database with the two files SQLite keeps beside it."""
    for beside in ("", "-wal", "-shm"):
        database.with_name(database.name + beside).unlink(missing_ok=True)


def welcome(port: int) -> str:
    """Write the address and the ways to sign in as a table."""
    wide = max(len(member.username) for member in MEMBERS)
    rows = [f"    {member.username:<{wide}}   {member.name}" for member in MEMBERS]
    return "\n".join((
        STUDIO_NAME,
        "",
        f"    http://{HOST}:{port}/",
        "",
        f"Sign in as one of these; the password is always {PASSWORD}",
        "",
        *rows,
        "",
        "Ctrl-C stops the demo. Nobody here is a real person.",
    ))  # fmt: skip
