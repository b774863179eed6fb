"""A calendar server (CalDAV, RFC 4791): one calendar found or made, its events listed, fetched and put there."""

from collections.abc import Iterable, Iterator
from typing import Any
from urllib.parse import quote, urljoin, urlsplit
from xml.sax.saxutils import escape

from msgspec import Struct

from scheduler.exchange.connection import CALDAV, DAV, Connection, OutOfReach, is_calendar, link_of, path_of, said_of

NAMES = 'xmlns:d="DAV:" xmlns:c="urn:ietf:params:xml:ns:caldav"'
ABOUT = (f"<d:propfind {NAMES}><d:prop><d:resourcetype/><d:displayname/><d:current-user-principal/>"
         "<c:calendar-home-set/></d:prop></d:propfind>")  # fmt: skip
TAGS = f"<d:propfind {NAMES}><d:prop><d:resourcetype/><d:getetag/></d:prop></d:propfind>"
AT_ONCE = 100
"""Events fetched by one request."""
CREATED, NOT_FOUND, REFUSED = 201, 404, 300
CHANGED = (409, 412)
"""Another was there first (RFC 4918, 12.1; RFC 4791, 5.3.2.1)."""


class ChangedThere(Exception):
    """An event is not as it was when it was looked at; nothing was put there."""


class Place(Struct, frozen=True):
    """A calendar on a server: its address, its name there, and whether it was made just now."""

    address: str
    name: str
    is_new: bool = False


class Server:
    """The calendars of one server. Every method raises OutOfReach where it cannot be used."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self._address = connection.address

    def find(self, segment: str, name: str, may_make: bool) -> Place | None:
        """The calendar at the server's address; where that is a home of calendars, the one of ours in it.

        segment, name: the last part of the address of ours, and its name. Where there is none it is made, if that may
        be, else None.
        """
        about = self._about(self._address)
        if about is None:
            raise OutOfReach(f"There is nothing at {self._address}: look at the address.")
        if is_calendar(about):
            return Place(_as_folder(self._address), said_of(about, "displayname"))
        address = urljoin(self._home(about), f"{quote(segment)}/")
        found = self._about(address)
        if found is None and not may_make:
            return None
        is_new = found is None and self._make(address, name)
        found = self._about(address)
        if found is None or not is_calendar(found):
            raise OutOfReach(f"The server makes no calendar at {address}: make one there, and give its address.")
        return Place(address, said_of(found, "displayname"), is_new)

    def _about(self, address: str) -> Any:
        """What the server says of an address; None where nothing is there."""
        answer = self._connection.ask("PROPFIND", address, ABOUT, {"Depth": "0"})
        if answer.status == NOT_FOUND:
            return None
        return next((one for _, one in self._connection.parts(answer)), None)

    def _home(self, about: Any) -> str:
        """The home of calendars that an address names: its own, or that of who is logged in."""
        home, principal = link_of(about, f"{CALDAV}calendar-home-set"), link_of(about, f"{DAV}current-user-principal")
        if home is None and principal is not None:
            theirs = self._about(self._beside(principal))
            home = None if theirs is None else link_of(theirs, f"{CALDAV}calendar-home-set")
        if home is None:
            raise OutOfReach(f"{self._address} is neither a calendar nor a home of calendars: look at the address.")
        return _as_folder(self._beside(home))

    def _beside(self, address: str) -> str:
        """An address that the server names; what is said to it must not go to another."""
        found = urljoin(self._address, address)
        if urlsplit(found)[:2] != urlsplit(self._address)[:2]:
            raise OutOfReach(f"The server keeps its calendars at another address: give {found} instead.")
        return found

    def _make(self, address: str, name: str) -> bool:
        """Whether a calendar was made (RFC 4791, 5.3.1); another run may have been first."""
        body = (f"<c:mkcalendar {NAMES}><d:set><d:prop><d:displayname>{escape(name)}</d:displayname></d:prop></d:set>"
                "</c:mkcalendar>")  # fmt: skip
        return bool(self._connection.ask("MKCALENDAR", address, body, {}).status == CREATED)

    def tags(self, address: str) -> dict[str, str]:
        """The tag of every event of a calendar, by its path."""
        answer = self._connection.ask("PROPFIND", address, TAGS, {"Depth": "1"})
        parts = [(path, one) for path, one in self._connection.parts(answer)
                 if one.find(f".//{DAV}resourcetype/{DAV}collection") is None]  # fmt: skip
        return {path: said_of(one, "getetag") for path, one in parts}

    def fetch(self, address: str, paths: Iterable[str]) -> Iterator[tuple[str, str, str]]:
        """(path, tag, content) of the events at these paths; of those that are gone, nothing (RFC 4791, 7.9)."""
        wanted = list(paths)
        for start in range(0, len(wanted), AT_ONCE):
            links = "".join(f"<d:href>{escape(_quoted(path))}</d:href>" for path in wanted[start : start + AT_ONCE])
            body = (f"<c:calendar-multiget {NAMES}><d:prop><d:getetag/><c:calendar-data/></d:prop>{links}"
                    "</c:calendar-multiget>")  # fmt: skip
            answer = self._connection.ask("REPORT", address, body, {"Depth": "1"})
            for path, one in self._connection.parts(answer):
                content = one.findtext(f".//{CALDAV}calendar-data")
                if content:
                    yield path, said_of(one, "getetag"), content

    def put(self, address: str, path: str, content: str, tag: str | None) -> str | None:
        """Puts an event there: new where tag is None, else in the place of the one with that tag.

        Its new tag, where the server gives one. Raises ChangedThere where it is not so there.
        """
        condition = {"If-None-Match": "*"} if tag is None else {"If-Match": tag}
        headers = {"Content-Type": "text/calendar; charset=utf-8", **condition}
        answer = self._connection.ask("PUT", urljoin(address, _quoted(path)), content, headers)
        if answer.status in CHANGED or (answer.status == NOT_FOUND and tag is not None):
            raise ChangedThere
        if answer.status >= REFUSED:
            raise OutOfReach(f"The server refused an event (it answers {answer.status}).")
        found = answer.headers.get("ETag")
        return None if found is None else str(found)


def new_path(address: str, uid: str) -> str:
    """Where a new event is put."""
    return f"{path_of(address)}{uid}.ics"


def _quoted(path: str) -> str:
    """A path as it stands in an address (RFC 3986, 3.3)."""
    return quote(path, safe="/:@!$&'()*+,;=")


def _as_folder(address: str) -> str:
    return address if address.endswith("/") else f"{address}/"
