# SPDX-License-Identifier: Apache-2.0
"""What a reverse proxy says of a request it passes on: believed of the proxies that were named, and of no other."""

from __future__ import annotations

import ipaddress
from collections.abc import Iterable
from ipaddress import IPv4Network, IPv6Network
from typing import TYPE_CHECKING

from werkzeug.middleware.proxy_fix import ProxyFix

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment


class Forwarded:
    """Passes a request on as the client sent it, where a trusted proxy stands between."""

    def __init__(self, app: WSGIApplication, proxies: tuple[IPv4Network | IPv6Network, ...]) -> None:
        self._app = app
        self._proxies = proxies
        self._believed = ProxyFix(app, x_for=1, x_proto=1, x_host=1)

    def __call__(self, environ: WSGIEnvironment, start_response: StartResponse) -> Iterable[bytes]:
        """Answer a request."""
        try:
            peer = ipaddress.ip_address(environ.get("REMOTE_ADDR", ""))
        except ValueError:
            return self._app(environ, start_response)
        is_proxy = any(peer in network for network in self._proxies)
        return (self._believed if is_proxy else self._app)(environ, start_response)
