"""Who may ask, and what every answer carries."""

import pytest
from flask import Flask
from flask.testing import FlaskClient

from companion.web.headers import CONTENT_SECURITY_POLICY

PATHS = [
    "/",
    "/plan",
    "/bench/",
    "/rescue",
    "/worker.js",
    "/manifest.webmanifest",
    "/bench/words/en.json",
    "/bench/words/xx.json",
    "/static/bench/main.js",
    "/static/none.js",
    "/api/v1/bundle",
    "/api/v1/none",
    "/none",
]


@pytest.mark.parametrize("path", PATHS)
def test_every_answer_carries_the_policies(client: FlaskClient, path: str) -> None:
    with client.get(path) as answer:
        headers = answer.headers
    assert headers["Content-Security-Policy"] == CONTENT_SECURITY_POLICY
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"
    assert headers["Permissions-Policy"].startswith("camera=(self)")
    assert headers["Cross-Origin-Opener-Policy"] == "same-origin"
    assert headers["Cross-Origin-Resource-Policy"] == "same-origin"
    assert headers["Cache-Control"] in ("no-store", "no-cache")
    assert not [name for name, _ in headers if name.startswith("Access-Control-")]


def test_the_policy_is_the_strict_one() -> None:
    assert dict(part.split(" ", 1) for part in CONTENT_SECURITY_POLICY.split("; ")) == {
        "default-src": "'none'",
        "script-src": "'self' 'wasm-unsafe-eval'",
        "style-src": "'self'",
        "font-src": "'self'",
        "img-src": "'self' blob:",
        "connect-src": "'self'",
        "manifest-src": "'self'",
        "worker-src": "'self'",
        "form-action": "'self'",
        "base-uri": "'none'",
        "object-src": "'none'",
        "frame-ancestors": "'none'",
        "require-trusted-types-for": "'script'",
        "trusted-types": "companion",
    }


@pytest.mark.parametrize("host", ["127.0.0.1", "127.0.0.1:8035", "localhost:8035", "[::1]:8035"])
def test_it_answers_to_the_names_of_this_machine(client: FlaskClient, host: str) -> None:
    assert client.get("/bench/", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize(
    "host",
    ["evil.example", "127.0.0.1.evil.example", "evil.example:8035", "localhost.evil", "[::2]", ""],
)
@pytest.mark.parametrize("path", ["/", "/api/v1/bundle", "/static/bench/main.js", "/none"])
def test_it_refuses_any_other_name(client: FlaskClient, host: str, path: str) -> None:
    answer = client.get(path, headers={"Host": host})
    assert answer.status_code == 400
    assert "127.0.0.1, localhost, [::1]" in answer.get_data(as_text=True)


FOREIGN = {
    "another origin": {"Origin": "http://evil.example"},
    "another port": {"Origin": "http://127.0.0.1:9999"},
    "no origin": {"Origin": None},
    "null": {"Origin": "null"},
    "cross-site": {"Origin": "http://127.0.0.1", "Sec-Fetch-Site": "cross-site"},
    "same-site": {"Origin": None, "Sec-Fetch-Site": "same-site"},
}


@pytest.mark.parametrize("headers", FOREIGN.values(), ids=FOREIGN.keys())
@pytest.mark.parametrize("path", ["/api/v1/codes", "/plan", "/import", "/language", "/none"])
def test_nothing_is_changed_for_a_page_of_another_origin(
    app: Flask, headers: dict[str, str | None], path: str
) -> None:
    given = {name: value for name, value in headers.items() if value is not None}
    answer = app.test_client().post(path, base_url="http://127.0.0.1", headers=given)
    assert answer.status_code == 403


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "TRACE"])
@pytest.mark.parametrize("path", ["/", "/api/v1/bundle", "/bench/"])
def test_unused_methods_are_refused(client: FlaskClient, method: str, path: str) -> None:
    answer = client.open(path, method=method)
    assert answer.status_code == 405


def test_an_unforeseen_error_tells_an_id_and_nothing_else(
    app: Flask, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def fail(*_: object) -> None:
        raise RuntimeError("secret of the house")

    monkeypatch.setattr("companion.web.sync.bundles.gather", fail)
    client = app.test_client()
    answer = client.get("/api/v1/bundle", base_url="http://127.0.0.1")
    assert answer.status_code == 500
    assert b"secret" not in answer.data
    assert answer.get_json()["value"] in caplog.text
