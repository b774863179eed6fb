"""Calendar servers for the tests: a real Radicale as a process of its own, and a proxy that fails on demand."""

import http.client
import socket
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Event, Thread

USERS = [f"keeper{number}" for number in range(100)]
PASSWORD = "secret"
SCRIPT = """
import sys
from radicale import config, server

port, folder = sys.argv[1:]
settings = config.load()
settings.update({
    "server": {"hosts": f"127.0.0.1:{port}"},
    "auth": {"type": "htpasswd", "htpasswd_filename": f"{folder}/users", "htpasswd_encryption": "plain", "delay": 0},
    "storage": {"filesystem_folder": f"{folder}/store", "_filesystem_fsync": "False"},
    "logging": {"level": "error"},
}, "tests", privileged=True)
server.serve(settings)
"""
"""What the process runs: its disk is not waited for, and nobody waits after a wrong password."""


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


@contextmanager
def radicale(folder: Path, port: int) -> "Iterator[subprocess.Popen[bytes]]":
    """A Radicale at the port that lasts as long as it is open; everybody's password is the same."""
    users = folder / "users"
    users.write_text("".join(f"{user}:{PASSWORD}\n" for user in USERS), encoding="utf-8")
    command = [sys.executable, "-c", SCRIPT, str(port), str(folder)]
    with (folder / "log").open("wb") as log:
        process = subprocess.Popen(command, stdout=log, stderr=log)
    try:
        _wait_for(port, process)
        yield process
    finally:
        process.terminate()
        process.wait(20)


def _wait_for(port: int, process: "subprocess.Popen[bytes]") -> None:
    for _ in range(600):
        assert process.poll() is None, "Radicale ended at once"
        try:
            socket.create_connection(("127.0.0.1", port), 1).close()
            return
        except OSError:
            Event().wait(0.05)
    raise AssertionError("Radicale does not listen")


@dataclass
class Proxy:
    """A way to a server on which requests go wrong: fault(method, how many of it came before) says how, or None.

    "drop": passed on, but the connection ends before the answer. "refuse": ends before anything is passed on.
    "untagged": the answer has no ETag. A number: that status instead of an answer. A text: that body as answer.
    "late": the answer does not come in time.
    """

    port: int
    fault: Callable[[str, int], object] = lambda method, before: None
    seen: list[str] = field(default_factory=list)
    headers: dict[str, str] = field(default_factory=dict)

    def count(self, method: str) -> int:
        """How many requests of a method came."""
        return self.seen.count(method)


@contextmanager
def proxied(port: int) -> Iterator[tuple[Proxy, int]]:
    """A proxy before the server at the port, and the proxy's own port."""
    proxy = Proxy(port)

    class Handler(BaseHTTPRequestHandler):
        protocol_version = "HTTP/1.0"

        def handle_any(self) -> None:
            _handle(self, proxy)

        do_GET = do_PUT = do_PROPFIND = do_REPORT = do_MKCALENDAR = do_DELETE = handle_any

        def log_message(self, format: str, *args: object) -> None:
            """Says nothing."""

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    server.daemon_threads = True
    thread = Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield proxy, server.server_address[1]
    finally:
        server.shutdown()
        server.server_close()
        thread.join()


def _handle(handler: BaseHTTPRequestHandler, proxy: Proxy) -> None:
    method = handler.command
    fault = proxy.fault(method, proxy.count(method))
    proxy.seen.append(method)
    body = handler.rfile.read(int(handler.headers.get("Content-Length") or 0))
    if fault == "refuse":
        return
    if isinstance(fault, int):
        _answer(handler, fault, proxy.headers, b"")
        return
    if isinstance(fault, str) and fault.startswith("body:"):
        _answer(handler, 207, {"Content-Type": "text/xml"}, fault.removeprefix("body:").encode())
        return
    if fault == "late":
        Event().wait(1.5)
        return
    try:
        status, headers, content = _passed_on(handler, proxy.port, body)
    except OSError:
        return
    if fault == "untagged":
        headers = {name: value for name, value in headers.items() if name.lower() != "etag"}
    if fault != "drop":
        _answer(handler, status, headers, content)


def _passed_on(handler: BaseHTTPRequestHandler, port: int, body: bytes) -> tuple[int, dict[str, str], bytes]:
    upstream = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
    upstream.request(handler.command, handler.path, body, dict(handler.headers.items()))
    answer = upstream.getresponse()
    content = answer.read()
    upstream.close()
    return answer.status, dict(answer.getheaders()), content


def _answer(handler: BaseHTTPRequestHandler, status: int, headers: dict[str, str], content: bytes) -> None:
    handler.send_response(status)
    for name, value in headers.items():
        if name.lower() not in ("content-length", "transfer-encoding", "connection", "server", "date"):
            handler.send_header(name, value)
    handler.send_header("Content-Length", str(len(content)))
    handler.end_headers()
    handler.wfile.write(content)
