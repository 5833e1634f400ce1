"""What a proxy in front says of the asker is believed only if it is one of ours."""

from collections.abc import Iterable
from typing import Any

from flask import Flask
from werkzeug.middleware.proxy_fix import ProxyFix

from ..config import Config


class KnownProxies:
    """Takes X-Forwarded-For and -Proto from the configured hops, and from nobody else.

    Host is never taken from a header of a proxy: the proxy hands it on as it came.
    """

    def __init__(self, application: Any, config: Config) -> None:
        self._plain = application
        self._behind = ProxyFix(
            application, x_for=config.trusted_hops, x_proto=config.trusted_hops, x_host=0
        )
        self._proxy_from = config.proxy_from

    def __call__(self, environ: dict[str, Any], start_response: Any) -> Iterable[bytes]:
        """Hand a request on."""
        known = environ.get("REMOTE_ADDR", "") in self._proxy_from
        return (self._behind if known else self._plain)(environ, start_response)


def stand_behind(app: Flask, config: Config) -> None:
    """Let the application look through the proxies it was told of, if any."""
    if config.trusted_hops:
        app.wsgi_app = KnownProxies(app.wsgi_app, config)  # type: ignore[method-assign]
