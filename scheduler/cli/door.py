"""The socket that a server listens on, and the server behind it."""

import errno
import logging
import socket
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Thread
from typing import TYPE_CHECKING, Any

from scheduler.cli.shared import OUT_OF_REACH
from scheduler.cli.terminal import complain

if TYPE_CHECKING:
    from flask import Flask

MOST_BODY, MOST_CONNECTIONS, IDLE_SECONDS, THREADS = 1024, 500, 20, 8
"""Bytes that a request may bring, connections at once, how long one may be silent, and answers made at once."""


@contextmanager
def opened(host: str, port: int) -> Iterator[socket.socket]:
    """A socket bound to the port of this machine, before anything is planned; exit code 3 where it cannot be had."""
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as door:
        if sys.platform != "win32":  # there it would let two programs have one port
            door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            door.bind((host, port))
        except OSError as error:
            complain(_not_opened(port, error))
            sys.exit(OUT_OF_REACH)
        yield door


def _not_opened(port: int, error: OSError) -> str:
    if error.errno == errno.EADDRINUSE:
        return f"Port {port} is taken, perhaps by another season serve; end that, or choose another with --port."
    reason = (error.strerror or "the system refuses").lower()
    return f"Port {port} cannot be opened ({reason}); choose another with --port."


@contextmanager
def serving(app: "Flask", door: socket.socket) -> Iterator[None]:
    """Answers requests in threads of its own while it is open."""
    from waitress.server import create_server
    from waitress.wasyncore import close_all

    logging.getLogger("waitress").setLevel(logging.ERROR)  # how many wait is no news for the keeper
    connections: dict[int, Any] = {}
    server: Any = create_server(
        app,
        map=connections,
        sockets=[door],
        threads=THREADS,
        ident=None,
        connection_limit=MOST_CONNECTIONS,
        channel_timeout=IDLE_SECONDS,
        max_request_body_size=MOST_BODY,
        asyncore_use_poll=True,
    )
    answering = Thread(target=server.run, daemon=True)
    answering.start()
    try:
        yield
    finally:
        server.trigger.pull_trigger(lambda: close_all(connections, ignore_all=True))
        answering.join(IDLE_SECONDS)
        server.task_dispatcher.shutdown()
