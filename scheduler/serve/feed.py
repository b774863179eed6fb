"""The feed: one calendar behind an address that cannot be guessed, for reading only."""

from collections.abc import Callable
from datetime import datetime
from typing import TYPE_CHECKING

from msgspec import Struct

if TYPE_CHECKING:
    from flask import Flask, Request, Response

READ = ("GET", "HEAD")


class Feed(Struct, frozen=True):
    """A calendar ready to be served: its bytes, the same packed by gzip, its tag, and when it changed (UTC)."""

    body: bytes
    packed: bytes
    tag: str
    changed: datetime


def feed_of(body: bytes, changed: datetime) -> Feed:
    """The feed of a calendar's bytes. One calendar has one tag, and always the same packed bytes."""
    import gzip
    from hashlib import sha256

    return Feed(body, gzip.compress(body, mtime=0), sha256(body).hexdigest()[:32], changed)


def path_of(secret: str) -> str:
    """The path at which the calendar stands."""
    return f"/{secret}/calendar.ics"


def feed_app(secret: str, current: Callable[[], Feed]) -> "Flask":
    """The WSGI application that serves the current feed at its path, and tells nothing at any other."""
    from hmac import compare_digest

    from flask import Flask, Response, request

    app = Flask(__name__, static_folder=None)
    own = path_of(secret).encode()

    @app.before_request
    def answer() -> Response:
        """Before any route is looked for, so that no answer depends on which there are."""
        if not compare_digest(request.path.encode(), own):
            return Response("Not found.\n", 404, mimetype="text/plain")
        if request.method not in READ:
            return Response("For reading only.\n", 405, {"Allow": ", ".join(READ)}, mimetype="text/plain")
        return _calendar(request, current())

    return app


def _calendar(request: "Request", feed: Feed) -> "Response":
    """The calendar, packed where the reader takes it, or 304 where the reader has it.

    Source: RFC 9110: validators (8.8), a tag for each form of the content (8.8.3.3), conditions (13), Vary (12.5.5).
    """
    from flask import Response

    packed = _takes_gzip(request)
    answer = Response(feed.packed if packed else feed.body, content_type="text/calendar; charset=utf-8")
    if packed:
        answer.headers["Content-Encoding"] = "gzip"
    answer.headers["Vary"] = "Accept-Encoding"
    answer.headers["Cache-Control"] = "private, no-cache"
    answer.set_etag(f"{feed.tag}-gzip" if packed else feed.tag)
    answer.last_modified = feed.changed
    answer.make_conditional(request)
    return answer


def _takes_gzip(request: "Request") -> bool:
    """Whether gzip was asked for, and no less than the calendar as it is (RFC 9110, 12.5.3)."""
    taken = request.accept_encodings
    return bool(taken) and taken.quality("gzip") > 0 and taken.quality("gzip") >= taken.quality("identity")
