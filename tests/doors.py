"""A process of a race opens its own door to the database."""

from django.db import connections


def own_door():
    """Forget the doors of the process this one was forked from, without shutting them; call it first in the child.

    While a browser is driven, Django keeps a thread's connections in two places, one for each side of the event loop.
    A fork has no loop, so it would find a connection that its parent still holds: sixteen on one line.
    """
    for alias in connections:
        del connections[alias]
