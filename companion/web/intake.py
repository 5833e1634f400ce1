"""Requests are taken in whole before a thread works on them (ASGI outside, WSGI inside).

A thread that waits for the rest of a body is lost to everybody else, and a phone that has left the
network in the middle of sending never sends the rest. So bodies wait here without a thread, up to
a time and a size. What is too late or too large goes on without its body, marked, and the
application refuses it as it refuses anything: with its own words and headers.

Sources: ASGI 3.0 for HTTP; PEP 3333 for the environment, with headers of one name joined as
RFC 9110 section 5.3 and, for cookies, RFC 6265 section 5.4 have it.
"""

import asyncio
import io
import sys
from collections.abc import Awaitable, Callable, Iterable, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import unquote_to_bytes

Environ = dict[str, Any]
Receive = Callable[[], Awaitable[Mapping[str, Any]]]
Send = Callable[[dict[str, Any]], Awaitable[None]]
Headers = list[tuple[bytes, bytes]]

#: Seconds for a body, and bytes a second that a larger one must at least come with.
BODY_WITHIN_S = 15.0
SLOWEST_BYTES_S = 64 * 1024
#: Larger bodies are few: each lies in memory while it comes.
LARGE_AT_A_TIME = 2
#: Name in the environment of what is wrong with a body, one of the three below, or empty.
TROUBLE = "companion.body_trouble"
LATE, CUT, LARGE = "late", "cut", "large"
_WITHOUT_BODY = frozenset({"GET", "HEAD", "OPTIONS", "TRACE"})


@dataclass(frozen=True, slots=True)
class Body:
    """A body as it is handed on.

    :ivar content: all of it, or nothing where it was too large or too late.
    :ivar length: bytes it has, or at least has where it was too large.
    :ivar trouble: ``LATE``, ``LARGE``, or ``CUT`` where it ended early or its chunks are none.
    """

    content: bytes = b""
    length: int = 0
    trouble: str = ""


@dataclass(frozen=True, slots=True)
class Sizes:
    """What is read of a body before anybody looks at it.

    :ivar most: bytes.
    :ivar larger: bytes of the paths that take larger files.
    """

    most: int
    larger: Mapping[str, int] = field(default_factory=dict)


class Intake:
    """An ASGI application in front of a WSGI one."""

    def __init__(
        self, application: Callable[..., Iterable[bytes]], sizes: Sizes, threads: int
    ) -> None:
        self._application = application
        self._sizes = sizes
        self._pool = ThreadPoolExecutor(threads, thread_name_prefix="request")
        self._large = asyncio.Semaphore(LARGE_AT_A_TIME)

    async def __call__(self, scope: Mapping[str, Any], receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            return
        body = await self._body(scope, receive)
        loop = asyncio.get_running_loop()
        status, headers, content = await loop.run_in_executor(
            self._pool, respond, self._application, environment(scope, body)
        )
        await send({"type": "http.response.start", "status": status, "headers": headers})
        await send({"type": "http.response.body", "body": content})

    async def _body(self, scope: Mapping[str, Any], receive: Receive) -> Body:
        if scope["method"] in _WITHOUT_BODY:
            return Body()
        declared = declared_length(scope["headers"])
        if declared <= self._sizes.most:
            return await timely(receive, self._sizes.most, BODY_WITHIN_S)
        if declared > self._sizes.larger.get(scope["path"], 0):
            return Body(length=declared, trouble=LARGE)
        seconds = BODY_WITHIN_S + declared / SLOWEST_BYTES_S
        async with self._large:
            return await timely(receive, declared, seconds)


def declared_length(headers: Headers) -> int:
    """Bytes the request says it has; 0 where it says none."""
    found = [value for name, value in headers if name == b"content-length"]
    return int(found[0]) if found and found[0].isdigit() else 0


async def timely(receive: Receive, most: int, seconds: float) -> Body:
    """A body, if it comes in time."""
    try:
        async with asyncio.timeout(seconds):
            return await whole(receive, most)
    except TimeoutError:
        return Body(trouble=LATE)


async def whole(receive: Receive, most: int) -> Body:
    """A body up to a size."""
    pieces: list[bytes] = []
    length = 0
    more = True
    while more:
        message = await receive()
        if message["type"] == "http.disconnect":
            return Body(trouble=CUT)
        pieces.append(message.get("body", b""))
        length += len(pieces[-1])
        if length > most:
            return Body(length=length, trouble=LARGE)
        more = message.get("more_body", False)
    return Body(b"".join(pieces), length)


def environment(scope: Mapping[str, Any], body: Body) -> Environ:
    """The request as WSGI tells it."""
    server, client = scope.get("server") or ("", 0), scope.get("client") or ("", 0)
    environ: Environ = {
        "REQUEST_METHOD": scope["method"],
        "SCRIPT_NAME": "",
        "PATH_INFO": unquote_to_bytes(scope["raw_path"]).decode("latin-1"),
        "QUERY_STRING": scope["query_string"].decode("latin-1"),
        "SERVER_NAME": str(server[0]),
        "SERVER_PORT": str(server[1]),
        "SERVER_PROTOCOL": f"HTTP/{scope['http_version']}",
        "REMOTE_ADDR": str(client[0]),
        "REMOTE_PORT": str(client[1]),
        "wsgi.version": (1, 0),
        "wsgi.url_scheme": scope["scheme"],
        "wsgi.input": io.BytesIO(body.content),
        "wsgi.input_terminated": True,
        "wsgi.errors": sys.stderr,
        "wsgi.multithread": True,
        "wsgi.multiprocess": False,
        "wsgi.run_once": False,
        TROUBLE: body.trouble,
    }
    for name, value in scope["headers"]:
        _add_header(environ, name.decode("latin-1"), value.decode("latin-1"))
    if "CONTENT_LENGTH" not in environ:
        # It came in chunks and is whole now.
        environ["CONTENT_LENGTH"] = str(body.length)
        environ.pop("HTTP_TRANSFER_ENCODING", None)
    return environ


def _add_header(environ: Environ, name: str, value: str) -> None:
    # "X_Real_IP" would be read as "X-Real-IP"; no client of ours writes such a name.
    if "_" in name:
        return
    key = name.upper().replace("-", "_")
    key = key if key in ("CONTENT_TYPE", "CONTENT_LENGTH") else f"HTTP_{key}"
    joint = "; " if key == "HTTP_COOKIE" else ","
    environ[key] = f"{environ[key]}{joint}{value}" if key in environ else value


def respond(
    application: Callable[..., Iterable[bytes]], environ: Environ
) -> tuple[int, Headers, bytes]:
    """Let the application answer: status, headers, body."""
    started: list[Any] = []

    def start_response(
        status: str, headers: list[tuple[str, str]], exc_info: object = None
    ) -> Callable[[bytes], None]:
        started[:] = [status, headers]
        return written.append

    written: list[bytes] = []
    answer = application(environ, start_response)
    try:
        written.extend(answer)
    finally:
        getattr(answer, "close", lambda: None)()
    status, headers = started
    coded = [(name.lower().encode("latin-1"), value.encode("latin-1")) for name, value in headers]
    return int(status[:3]), coded, b"".join(written)
