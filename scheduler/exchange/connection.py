"""One connection to a calendar server: requests, tried again where that may help, and answers in parts."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any
from urllib.parse import unquote, urlsplit

DAV, CALDAV = "{DAV:}", "{urn:ietf:params:xml:ns:caldav}"
WAITS = (1.0, 2.0, 4.0)
"""Seconds before each further try, where a server asks for no more."""
LONGEST_WAIT = 30.0
BUSY = (429, 500, 502, 503, 504)
MULTI_STATUS = 207


class OutOfReach(Exception):
    """The server cannot be used now; the message is one sentence for the keeper."""


class Connection:
    """Requests to one server. sleep: waits so many seconds. timeout: seconds that an answer may take.

    authority: the file of a certificate authority of its own.
    """

    def __init__(
        self, address: str, user: str | None, password: str | None, *,
        sleep: Callable[[float], None], timeout: int, authority: str | None = None,
    ) -> None:  # fmt: skip
        from caldav.davclient import DAVClient
        from caldav.lib import error

        error.debug_dump_communication = False  # no file holds what is said with the server
        self.address, self._sleep = address, sleep
        self._client = DAVClient(
            address, username=user, password=password, timeout=timeout, enable_rfc6764=False,
            ssl_verify_cert=authority or True,
        )  # fmt: skip
        self._client.session.trust_env = False  # neither passwords of a .netrc nor proxies that nobody named
        self._client.session.max_redirects = 0

    def close(self) -> None:
        """Ends the connection."""
        self._client.close()

    def ask(self, method: str, address: str, body: str, headers: Mapping[str, str]) -> Any:
        """The server's answer; OutOfReach where it gives none, or is in trouble, after all tries."""
        for wait in WAITS:
            try:
                return self._once(method, address, body, headers)
            except _ForNow as trouble:
                self._sleep(min(max(wait, trouble.wait), LONGEST_WAIT))
        try:
            return self._once(method, address, body, headers)
        except _ForNow as trouble:
            raise OutOfReach(str(trouble)) from None

    def _once(self, method: str, address: str, body: str, headers: Mapping[str, str]) -> Any:
        from caldav.lib import error

        try:
            answer = self._client.request(address, method, body, dict(headers))
        except error.AuthorizationError as refused:
            raise OutOfReach(_no_entry(refused)) from None
        except error.RateLimitError as busy:
            raise _ForNow("The server is busy; try again later.", busy.retry_after_seconds or 0.0) from None
        except OSError as failure:
            raise self._failed(failure) from None
        except (error.DAVError, ValueError, SyntaxError):
            raise OutOfReach(self.no_calendar_server()) from None
        if answer.status in BUSY:
            raise _ForNow(f"The server is in trouble (it answers {answer.status}); try again later.")
        return answer

    def _failed(self, failure: OSError) -> Exception:
        """What a request that got no answer means; the library tells its causes in words only."""
        from niquests import exceptions

        said, whose = str(failure), urlsplit(self.address).hostname
        if isinstance(failure, exceptions.TooManyRedirects):
            return OutOfReach(f"{self.address} points to another address: give that one instead.")
        if "certificate has expired" in said:
            return OutOfReach(f"The certificate of {whose} has expired, so it may be another server; nothing was sent.")
        if isinstance(failure, exceptions.SSLError) or "CERTIFICATE_VERIFY_FAILED" in said:
            return OutOfReach(f"The certificate of {whose} cannot be trusted; nothing was sent.")
        if isinstance(failure, exceptions.Timeout):
            return _ForNow(f"{whose} does not answer in time; try again later.")
        return _ForNow(f"{whose} cannot be reached; try again later.")

    def no_calendar_server(self) -> str:
        """The sentence on an answer that none gives."""
        return f"{self.address} does not answer as a calendar server: look at the address."

    def parts(self, answer: Any) -> Iterator[tuple[str, Any]]:
        """The parts of an answer about several things, by path (RFC 4918, 13)."""
        if answer.status != MULTI_STATUS or answer.tree is None:
            raise OutOfReach(self.no_calendar_server())
        for one in answer.tree.iter(f"{DAV}response"):
            path = (one.findtext(f"{DAV}href") or "").strip()
            if path:
                yield path_of(path), one


class _ForNow(Exception):
    """A trouble that may pass; `wait`: seconds that the server asks for."""

    def __init__(self, sentence: str, wait: float = 0.0) -> None:
        super().__init__(sentence)
        self.wait = wait


def _no_entry(refused: Any) -> str:
    if "Unauthorized" in str(refused.reason):
        return "The server does not take this user name and password."
    return "The server lets this user do nothing here: look at the address and the user name."


def path_of(address: str) -> str:
    """The path of an address, without percent signs."""
    return unquote(urlsplit(address).path)


def said_of(part: Any, name: str) -> str:
    """The text of a property of DAV:, as `displayname`; empty where there is none."""
    return (part.findtext(f".//{DAV}{name}") or "").strip()


def link_of(part: Any, name: str) -> str | None:
    """The address in a property, by its full name; None where there is none."""
    found = part.findtext(f".//{name}/{DAV}href")
    return found.strip() if found else None


def is_calendar(part: Any) -> bool:
    """Whether it is a calendar (RFC 4791, 4.2)."""
    return part.find(f".//{DAV}resourcetype/{CALDAV}calendar") is not None
