"""A calendar server as the command line names it: its address, who is asking, and the password."""

import getpass
import ipaddress
import os
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar
from urllib.parse import unquote, urlsplit, urlunsplit

import click

from scheduler.cli.terminal import complain

if TYPE_CHECKING:
    from scheduler.exchange import Server

PASSWORD_VARIABLE = "SEASON_PASSWORD"
KEYRING_SERVICE = "season"
F = TypeVar("F", bound=Callable[..., Any])

SERVER_OPTIONS = (
    click.option("--user", metavar="NAME", help="User name at the server; or in the address, as https://NAME@..."),
    click.option("--remember", is_flag=True, help="Ask for the password and keep it in this machine's keyring."),
    click.option("--ca", type=click.Path(path_type=Path, exists=True, dir_okay=False), metavar="FILE",
                 help="Certificate authority of your own server (PEM)."),
    click.option("--plain-http", is_flag=True, help="Allow http:// to another machine: anybody between can read all."),
    click.option("--timeout", type=click.IntRange(1, 600), default=30, show_default=True, metavar="SECONDS",
                 help="How long the server may take for an answer."),
)  # fmt: skip


def server_options(command: F) -> F:
    """The options of a command that speaks to a server; they come to it as `user`, `remember`, `ca` ..."""
    for option in reversed(SERVER_OPTIONS):
        command = option(command)
    return command


def is_address(text: str) -> bool:
    """Whether a text is meant as an address, not as a file."""
    return "://" in text


def checked_address(address: str, user: str | None, plain_http: bool) -> tuple[str, str | None]:
    """The address without a user, and the user; a usage error where it may not be. No password is ever shown."""
    try:
        parts = urlsplit(address)
        host, port = parts.hostname, parts.port
    except ValueError:
        raise click.UsageError(
            "The address cannot be read; write, for example, https://calendar.example/me/."
        ) from None
    if parts.password is not None:
        raise click.UsageError("A password does not belong into an address: others can see it there. Leave it out; "
                               f"it is asked for, or read from {PASSWORD_VARIABLE} or the keyring.")  # fmt: skip
    if parts.scheme not in ("http", "https") or not host or parts.query or parts.fragment:
        raise click.UsageError("Expected the address of a calendar server, as https://calendar.example/me/.")
    if parts.scheme == "http" and not plain_http and not _is_this_machine(host):
        raise click.UsageError("With http:// anybody between can read all, the password too: write https://, or add "
                               "--plain-http where the network is your own.")  # fmt: skip
    named = None if parts.username is None else unquote(parts.username)
    if user is not None and named is not None and user != named:
        raise click.UsageError("--user and the address name two users.")
    place = f"[{host}]" if ":" in host else host
    bare = urlunsplit((parts.scheme, place if port is None else f"{place}:{port}", parts.path or "/", "", ""))
    return bare, user or named


def _is_this_machine(host: str) -> bool:
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


def password_for(user: str, address: str, anew: bool) -> str:
    """The password: from the environment, the keyring, or typed. A usage error where there is none of them.

    anew: what is in the keyring may be out of date.
    """
    found = os.environ.get(PASSWORD_VARIABLE) or (None if anew else _kept(user, address))
    if found:
        return found
    if not sys.stdin.isatty():
        raise click.UsageError(f"No password for {user}: set {PASSWORD_VARIABLE}, or call this in a terminal, once "
                               "with --remember.")  # fmt: skip
    return getpass.getpass(f"Password of {user} at {urlsplit(address).netloc}: ")


def _account(user: str, address: str) -> str:
    return f"{user}@{urlsplit(address).netloc}"


def _kept(user: str, address: str) -> str | None:
    """The password in the keyring; None where there is none, or no keyring that works."""
    try:
        import keyring

        return keyring.get_password(KEYRING_SERVICE, _account(user, address))
    except Exception:  # a keyring's failures are of many kinds, and none of them is more than "not there"
        return None


def _keep(user: str, address: str, password: str) -> None:
    try:
        import keyring

        keyring.set_password(KEYRING_SERVICE, _account(user, address), password)
    except Exception:
        complain("This machine has no keyring that takes the password; it is kept nowhere.")


@contextmanager
def connected(
    address: str, user: str | None, remember: bool, ca: Path | None, plain_http: bool, timeout: int
) -> "Iterator[tuple[Server, str]]":
    """The server at the address, and the address as it is shown; the password is kept once all went well."""
    from scheduler.exchange import Connection, Server

    bare, who = checked_address(address, user, plain_http)
    password = None if who is None else password_for(who, bare, remember)
    connection = Connection(
        bare, who, password, sleep=time.sleep, timeout=timeout, authority=None if ca is None else str(ca)
    )
    try:
        yield Server(connection), bare
    finally:
        connection.close()
    if remember and who is not None and password is not None:
        _keep(who, bare, password)
