"""The address of a feed: the secret in its path, kept beside the plan, and the machine's own addresses."""

import os
import re
import secrets
import socket
from contextlib import suppress
from pathlib import Path

from scheduler.cli.disk import read_bytes
from scheduler.cli.shared import refuse

FILE = "feed-address"
SECRET = re.compile(r"[A-Za-z0-9_-]{32}")
SECRET_BYTES = 24
"""192 bits, which nobody guesses."""


def secret_of(folder: Path, anew: bool) -> str:
    """The secret kept in the plan's folder, made where there is none or another is wanted; readable by its owner only.

    Ends with exit code 2 where the file holds something else. Raises OSError where it cannot be written.
    """
    from scheduler.words import Fault, Faults, Where

    found = None if anew else read_bytes(folder / FILE)
    if isinstance(found, Fault):
        refuse(Faults((found,)), False)
    if found is None:
        return _made(folder)
    secret = found.decode("ascii", "replace").strip()
    if SECRET.fullmatch(secret) is None:
        mend = "make another with --new-address, and subscribe again"
        refuse(Faults((Fault(Where(FILE), "found no address", "expected one that this program made", mend),)), False)
    return secret


def _made(folder: Path) -> str:
    secret = secrets.token_urlsafe(SECRET_BYTES)
    folder.mkdir(parents=True, exist_ok=True)
    part = folder / f".{FILE}.{os.getpid()}.new"
    part.unlink(missing_ok=True)
    try:
        descriptor = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(descriptor, "w") as file:
            file.write(f"{secret}\n")
        part.replace(folder / FILE)
    finally:
        part.unlink(missing_ok=True)
    return secret


def addresses_in_network() -> list[str]:
    """This machine's own addresses as others in its network know them; empty where it has none. Nothing is sent."""
    found: set[str] = set()
    with suppress(OSError):
        found.update(str(row[4][0]) for row in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET))
    with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        asking.connect(("192.0.2.1", 9))  # an address kept for examples (RFC 5737); no packet leaves
        found.add(asking.getsockname()[0])
    return sorted(address for address in found if not address.startswith(("127.", "0.")))
