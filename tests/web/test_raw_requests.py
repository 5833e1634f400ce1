"""Requests that two readers could read in two ways, and those that ask too much.

Source: RFC 9112 sections 2.2, 3.2, 5.1, 5.2, 6.1 and 6.3 (line ends, Host, blanks, folded lines,
lengths), RFC 9110 sections 15.5.6, 15.5.14 and 15.5.16 (405, 413, 415).
"""

import gzip
import re
from collections.abc import Iterator

import pytest
from flask import Flask

from tests.running import RunningServer
from tests.web.wire_talk import LOG, head, heard

CODES = "POST /api/v1/codes HTTP/1.1"
HEALTH = "GET /api/v1/health HTTP/1.1"
JSON = "Content-Type: application/json"
MIB = 1024 * 1024


@pytest.fixture(scope="module")
def port(tmp_path_factory: pytest.TempPathFactory) -> Iterator[int]:
    """A server of this module alone."""
    server = RunningServer(tmp_path_factory.mktemp("raw") / "data").start()
    yield server.port
    server.kill()


#: Headers and body after which a second request hides.
TWO_WAYS = {
    "two lengths": (["Content-Length: 2", "Content-Length: 40"], b"{}"),
    "a list of lengths": (["Content-Length: 2, 2"], b"{}"),
    "a signed length": (["Content-Length: +2"], b"{}"),
    "a hexadecimal length": (["Content-Length: 0x2"], b"{}"),
    "length and chunks": (["Content-Length: 6", "Transfer-Encoding: chunked"], b"0\r\n\r\n"),
    "chunks and length": (["Transfer-Encoding: chunked", "Content-Length: 5"], b"0\r\n\r\n"),
    "chunks with a sign": (["Transfer-Encoding: \x0bchunked", "Content-Length: 2"], b"{}"),
    "chunks, then not": (["Transfer-Encoding: chunked, identity"], b"0\r\n\r\n"),
    "two encodings": (["Transfer-Encoding: chunked", "Transfer-Encoding: gzip"], b"0\r\n\r\n"),
    "an unknown encoding": (["Transfer-Encoding: xchunked"], b"0\r\n\r\n"),
    "a blank before the colon": (["Transfer-Encoding : chunked"], b"0\r\n\r\n"),
    "a folded line": (["X-A: b\r\n Transfer-Encoding: chunked", "Content-Length: 2"], b"{}"),
    "a return without a line feed": (["X-A: b\rContent-Length: 0", "Content-Length: 2"], b"{}"),
    "a NUL": (["X-A: b\0", "Content-Length: 2"], b"{}"),
    "a chunk that is none": (["Transfer-Encoding: chunked"], b"zz\r\n{}\r\n0\r\n\r\n"),
    "a chunk with more": (["Transfer-Encoding: chunked"], b"2\r\n{}XX\r\n0\r\n\r\n"),
    "a chunk that ends in a feed": (["Transfer-Encoding: chunked"], b"2;a\n{}\r\n0\r\n\r\n"),
}


@pytest.mark.parametrize("kind", TWO_WAYS)
def test_what_could_be_read_in_two_ways_ends_the_connection(port: int, kind: str) -> None:
    headers, body = TWO_WAYS[kind]
    hidden = head(port, HEALTH)
    got = heard(port, head(port, CODES, JSON, *headers) + body + hidden)
    # One answer, never a second one to what hid in the first.
    assert len(got.statuses) == 1 and got.closed
    assert b"server_time" not in got.text
    if kind not in ("length and chunks", "chunks and length"):
        assert got.statuses == (400,)


@pytest.mark.parametrize(
    "headers",
    [["Host: evil.example"], [], ["Host: 127.0.0.1,evil.example"], ["Host: 127.0.0.1:80:80"]],
    ids=["two", "own port twice", "a list", "two ports"],
)
def test_one_host_is_asked_for(port: int, headers: list[str]) -> None:
    own = f"Host: 127.0.0.1:{port}"
    given = [own, *headers] if headers != [] else [own, own]
    if headers and headers[0].startswith("Host: 127"):
        given = headers
    sent = "\r\n".join([HEALTH, *given, "", ""]).encode()
    assert heard(port, sent).statuses == (400,)


def test_names_with_underlines_are_no_names_with_dashes(port: int) -> None:
    # Where they were read alike, this one would say that a proxy stands in front.
    assert heard(port, head(port, HEALTH, "X_Forwarded_For: 10.0.0.1")).statuses == (200,)
    assert heard(port, head(port, HEALTH, "X-Forwarded-For: 10.0.0.1")).statuses == (403,)


@pytest.mark.parametrize("method", ["TRACE", "PUT", "DELETE", "PATCH", "CONNECT", "COPY"])
def test_methods_nobody_uses_are_refused_on_every_route(port: int, app: Flask, method: str) -> None:
    values = {"log_id": LOG, "code": "7K2QMS", "number": 1, "_place": "C", "at": "x"}
    values |= {"language": "en", "filename": "bench/main.js", "kind": "lot", "register": "people"}
    with app.test_request_context(base_url="http://127.0.0.1"):
        rules = [rule for rule in app.url_map.iter_rules() if rule.methods]
        paths = {
            app.url_for(rule.endpoint, **{name: values[name] for name in rule.arguments})
            for rule in rules
        }
    assert len(paths) > 30
    for path in sorted(paths):
        got = heard(port, head(port, f"{method} {path} HTTP/1.1", "Connection: close"))
        assert got.statuses in ((404,), (405,)), (method, path)


FILLED = {"log_id": LOG, "code": "7K2QMS", "kind": "lot", "register": "people"}


def posts(app: Flask) -> list[str]:
    return sorted(
        re.sub("<([a-z_]+)>", lambda found: FILLED[found[1]], rule.rule).replace(
            "<int:number>", "1"
        )
        for rule in app.url_map.iter_rules()
        if "POST" in (rule.methods or ())
    )


def test_a_body_too_large_is_refused_unread(port: int, app: Flask) -> None:
    for path in posts(app):
        length = 33 * MIB if path == "/import" else MIB + 1
        sent = head(port, f"POST {path} HTTP/1.1", f"Content-Length: {length}")
        # Nothing of the body is sent: an answer that comes has not waited for it.
        assert heard(port, sent + b"a").statuses == (413,), path


def test_a_body_too_large_in_chunks_is_refused(port: int) -> None:
    sent = head(port, "POST /plan HTTP/1.1", "Transfer-Encoding: chunked")
    chunk = b"10000\r\n" + b"a" * 65536 + b"\r\n"
    form = b"Content-Type: application/x-www-form-urlencoded\r\n\r\n"
    assert heard(port, sent[:-2] + form + chunk * 17).statuses == (413,)


def test_a_file_of_many_megabytes_is_taken_where_files_are(port: int) -> None:
    envelope = b'--b\r\nContent-Disposition: form-data; name="file"; filename="log.csv"\r\n\r\n'
    body = envelope + b"a" * (8 * MIB) + b"\r\n--b--\r\n"
    sent = head(
        port,
        "POST /import HTTP/1.1",
        "Content-Type: multipart/form-data; boundary=b",
        f"Content-Length: {len(body)}",
    )
    # Read, and found to be no log.
    assert heard(port, sent + body).statuses == (422,)


def test_packed_bodies_are_refused_everywhere(port: int, app: Flask) -> None:
    body = gzip.compress(b"{}")
    for path in posts(app):
        sent = head(
            port,
            f"POST {path} HTTP/1.1",
            JSON,
            "Content-Encoding: gzip",
            f"Content-Length: {len(body)}",
        )
        assert heard(port, sent + body).statuses == (415,), path


@pytest.mark.parametrize(
    ("sent", "status"),
    [
        (lambda port: head(port, HEALTH, f"X-A: {'a' * 900_000}"), 431),
        (lambda port: head(port, HEALTH, *(f"X-{number}: a" for number in range(150))), 431),
        (lambda port: head(port, f"GET /{'a' * 70_000} HTTP/1.1"), 414),
        (lambda port: b"GET /\r\n\r\n", 400),
        (lambda port: b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03\r\n\r\n", 400),
    ],
    ids=["long header", "many headers", "long address", "HTTP 0.9", "TLS"],
)
def test_a_head_that_asks_too_much_is_refused(port: int, sent, status: int) -> None:
    assert heard(port, sent(port)).statuses == (status,)


@pytest.mark.parametrize("path", ["/%ff", "/%00", "/%zz", "/a%0d%0ab", "//evil.example/%2e%2e"])
def test_an_odd_address_is_simply_not_found(port: int, path: str) -> None:
    got = heard(port, head(port, f"GET {path} HTTP/1.1", "Connection: close"))
    assert got.statuses in ((404,), (308,))
    assert b"evil.example/\r\n" not in got.text.replace(b"location: http://127.0.0.1", b"")


def test_two_requests_in_one_go_get_two_answers(port: int) -> None:
    assert heard(port, head(port, HEALTH) * 2, answers=2).statuses == (200, 200)


def test_a_head_is_answered_without_its_body(port: int) -> None:
    got = heard(port, head(port, "HEAD /static/bench/main.js HTTP/1.1", "Connection: close"))
    assert got.statuses == (200,)
    start, _, rest = got.text.partition(b"\r\n\r\n")
    assert rest == b"" and b"content-length: 0" not in start.lower()
