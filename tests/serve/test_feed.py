"""The feed over real sockets, held to HTTP's own words (RFC 9110; section numbers beside each check, from memory)."""

import gzip
import http.client
import socket
from collections.abc import Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from email.utils import parsedate_to_datetime

import pytest

from scheduler.cli.door import opened, serving
from scheduler.serve import Feed, feed_app, feed_of, path_of

SECRET = "k3" * 16
PATH = path_of(SECRET)
BODY = b"BEGIN:VCALENDAR\r\n" + b"X-ROW:the same again\r\n" * 2000 + b"END:VCALENDAR\r\n"
CHANGED = datetime(2027, 5, 1, 6, 30, 15, tzinfo=UTC)
AT = "Sat, 01 May 2027 06:30:15 GMT"


@dataclass(frozen=True)
class Answer:
    """What came back."""

    status: int
    headers: Mapping[str, str]
    body: bytes


class Server:
    """A server of this test alone; `feed` may be put in the place of another at any time."""

    def __init__(self, port: int) -> None:
        self.port = port
        self.feed = feed_of(BODY, CHANGED)

    def current(self) -> Feed:
        """The feed of the moment."""
        return self.feed

    def ask(self, method: str = "GET", **headers: str) -> Answer:
        """One request for the calendar; a header's hyphens are written as low lines."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        connection.request(method, PATH, None, {"Accept-Encoding": "identity", **named})
        answer = connection.getresponse()
        read = Answer(answer.status, dict(answer.getheaders()), answer.read())
        connection.close()
        return read

    def raw(self, request: bytes) -> bytes:
        """What comes back to these bytes, until the other end closes."""
        with socket.create_connection(("127.0.0.1", self.port), timeout=30) as line:
            line.sendall(request)
            line.shutdown(socket.SHUT_WR)
            answered = b""
            with suppress(ConnectionResetError):
                while part := line.recv(65536):
                    answered += part
            return answered


@contextmanager
def running() -> Iterator[Server]:
    with opened("127.0.0.1", 0) as door:
        server = Server(door.getsockname()[1])
        with serving(feed_app(SECRET, server.current), door):
            yield server


@pytest.fixture(scope="module")
def server() -> Iterator[Server]:
    with running() as found:
        yield found


def test_the_calendar_comes_as_it_is_with_its_type_and_validators(server: Server) -> None:
    answer = server.ask()
    assert (answer.status, answer.body) == (200, BODY)
    assert answer.headers["Content-Type"] == "text/calendar; charset=utf-8"
    assert answer.headers["Content-Length"] == str(len(BODY))
    assert answer.headers["Last-Modified"] == AT
    assert tag(answer).startswith('"')
    assert "Server" not in answer.headers


def test_two_hundred_requests_at_once_are_all_answered_whole(server: Server) -> None:
    with ThreadPoolExecutor(200) as pool:
        answers = list(pool.map(lambda _: server.ask(), range(200)))
    assert {(answer.status, answer.body) for answer in answers} == {(200, BODY)}


def test_head_tells_the_same_and_brings_nothing(server: Server) -> None:
    """9.3.2."""
    got, told = server.ask(), server.ask(method="HEAD")
    assert (told.status, told.body) == (200, b"")
    assert {**told.headers, "Date": ""} == {**got.headers, "Date": ""}


@pytest.mark.parametrize(
    ("taken", "packed"),
    [("gzip", True), ("gzip, deflate, br", True), ("deflate, gzip;q=0.5", True), ("*", True), ("gzip;q=0", False),
     ("br", False), ("identity", False), ("identity, gzip;q=0.2", False), ("", False)],
)  # fmt: skip
def test_it_is_packed_only_where_the_reader_takes_it(server: Server, taken: str, packed: bool) -> None:
    """12.5.3, and Vary (12.5.5) either way."""
    answer = server.ask(Accept_Encoding=taken)
    assert answer.headers["Vary"] == "Accept-Encoding"
    assert (answer.headers.get("Content-Encoding") == "gzip") is packed
    assert (gzip.decompress(answer.body) if packed else answer.body) == BODY
    assert int(answer.headers["Content-Length"]) == len(answer.body)


def test_packed_and_plain_have_tags_of_their_own(server: Server) -> None:
    """8.8.3.3."""
    plain, packed = tag(server.ask()), tag(server.ask(Accept_Encoding="gzip"))
    assert plain != packed
    assert server.ask(If_None_Match=packed).status == 200
    assert server.ask(If_None_Match=packed, Accept_Encoding="gzip").status == 304


@pytest.mark.parametrize("method", ["GET", "HEAD"])
def test_what_the_reader_has_is_not_sent_again(server: Server, method: str) -> None:
    """13.1.2 and 13.1.3; 15.4.5: a 304 carries the tag, Vary and Cache-Control, and no content."""
    known = tag(server.ask())
    for condition in ({"If_None_Match": known}, {"If_None_Match": f'"other", W/{known}'}, {"If_None_Match": "*"},
                      {"If_Modified_Since": AT}):  # fmt: skip
        answer = server.ask(method=method, **condition)
        assert (answer.status, answer.body) == (304, b""), condition
        assert tag(answer) == known
        assert {"Vary", "Cache-Control"} <= answer.headers.keys()
        assert "Content-Encoding" not in answer.headers


@pytest.mark.parametrize(
    "condition",
    [{"If_None_Match": '"other"'}, {"If_Modified_Since": "Sat, 01 May 2027 06:30:14 GMT"}, {"If_Modified_Since": "?"},
     {"If_None_Match": '"other"', "If_Modified_Since": AT}],
)  # fmt: skip
def test_what_the_reader_lacks_is_sent(server: Server, condition: dict[str, str]) -> None:
    """13.2.2: a tag that does not match decides, whatever the date."""
    assert server.ask(**condition).status == 200


def test_a_new_calendar_has_a_new_tag_and_date() -> None:
    with running() as server:
        before = server.ask()
        server.feed = feed_of(BODY.replace(b"again", b"anew"), datetime(2027, 5, 1, 7, 0, 0, tzinfo=UTC))
        answer = server.ask(If_None_Match=tag(before), If_Modified_Since=before.headers["Last-Modified"])
        assert (answer.status, answer.body.count(b"anew")) == (200, 2000)
        assert parsedate_to_datetime(answer.headers["Last-Modified"]).hour == 7


GUESSES = (
    "/", "//", "/calendar.ics", "/index.html", "/robots.txt", "/.git/config", "/feed-address", "/plan.json",
    f"/{SECRET}", f"/{SECRET}/", f"/{SECRET}/calendar.ics/", f"/{SECRET}/plan.json", f"/{SECRET}//calendar.ics",
    f"/{SECRET[:-1]}/calendar.ics", f"/{SECRET.upper()}/calendar.ics", f"/{SECRET}/calendar.ics%00",
    f"/{SECRET}/../{SECRET}/calendar.ics", f"/{SECRET}/./calendar.ics", "/../../../etc/passwd", "/%2e%2e/%2e%2e/etc",
    "/static/x", "/%ff%fe", "/%c3%a9/calendar.ics", "/" + "a" * 5000, f"/{SECRET}\\calendar.ics",
)  # fmt: skip


@pytest.mark.parametrize("path", GUESSES)
def test_a_guessed_path_is_told_nothing(server: Server, path: str) -> None:
    for method in ("GET", "HEAD", "POST", "PUT", "DELETE", "OPTIONS", "PROPFIND"):
        status, fields, body = split(server.raw(f"{method} {path} HTTP/1.0\r\n\r\n".encode("latin-1")))
        assert status == b"HTTP/1.0 404 NOT FOUND"
        assert body == (b"" if method == "HEAD" else b"Not found.\n")
        assert fields == {b"Content-Length", b"Content-Type", b"Date", b"Connection"}


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "OPTIONS", "PATCH", "PROPFIND", "REPORT", "TRACE", "BREW"])
def test_at_its_own_path_it_says_that_it_is_for_reading_only(server: Server, method: str) -> None:
    """15.5.6."""
    answer = server.ask(method=method)
    assert answer.status == 405
    assert answer.headers["Allow"] == "GET, HEAD"
    assert server.ask().body == BODY


@pytest.mark.parametrize(
    "request_bytes",
    [b"\0\0\0\0", b"GET\r\n\r\n", b"GET / HTTP/9.9\r\n\r\n", b"GET  \r\n\r\n", b"\r\n" * 50, b"\xff" * 3000,
     b"GET / HTTP/1.1\r\nHost: a b\r\n\r\n", b"GET / HTTP/1.1\r\n: x\r\n\r\n",
     b"GET / HTTP/1.1\r\nA: " + b"x" * 300_000, b"GET /\xc3\xa9 HTTP/1.1\r\n\r\n",
     b"POST / HTTP/1.1\r\nContent-Length: 999999999\r\n\r\n", b"POST / HTTP/1.1\r\nContent-Length: -1\r\n\r\n",
     b"POST / HTTP/1.1\r\nTransfer-Encoding: chunked\r\n\r\nzz\r\n"],
)  # fmt: skip
def test_what_is_no_request_ends_no_server_and_tells_nothing(server: Server, request_bytes: bytes) -> None:
    answered = server.raw(request_bytes)
    assert SECRET.encode() not in answered
    assert b"Traceback" not in answered
    assert b" 200 " not in answered.partition(b"\r\n")[0]
    assert server.ask().status == 200


def test_a_silent_reader_keeps_nobody_waiting(server: Server) -> None:
    with socket.create_connection(("127.0.0.1", server.port)) as silent:
        silent.sendall(b"GET ")
        assert server.ask().body == BODY


def tag(answer: Answer) -> str:
    """The entity tag of an answer, however its name is written."""
    return next(value for name, value in answer.headers.items() if name.lower() == "etag")


def split(answered: bytes) -> tuple[bytes, set[bytes], bytes]:
    """The status line, the names of the header fields, and the body."""
    head, _, body = answered.partition(b"\r\n\r\n")
    status, *fields = head.split(b"\r\n")
    return status, {field.partition(b":")[0] for field in fields}, body
