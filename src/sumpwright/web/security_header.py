# SPDX-License-Identifier: Apache-2.0
"""Headers that tell a browser what the page may do: nothing but talk to its own server.

Sources: W3C Content Security Policy Level 3; WHATWG HTML (cross-origin opener policy, sandboxing);
WHATWG Fetch (nosniff, cross-origin resource policy).
"""

from collections.abc import Iterable

from sumpwright.web.asked import Headers

FORCED: Headers = [
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),  # or the token of /open/ could be told to others
    (b"x-frame-options", b"SAMEORIGIN"),  # for browsers that do not know frame-ancestors
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"camera=(), microphone=(), geolocation=(), usb=(), serial=()"),
]
"""On every answer, whatever a route says."""
_PAGE = (
    b"default-src 'none'",
    b"script-src 'self'",
    b"style-src 'self'",
    b"img-src 'self' blob: data:",
    b"font-src 'self'",
    b"frame-src 'self'",
    b"worker-src 'self'",
    b"manifest-src 'self'",
    b"base-uri 'none'",
    b"form-action 'none'",
    b"frame-ancestors 'self'",
)


def page_policy(host: bytes) -> bytes:
    """The policy of the page served to `host`, which has been checked.

    The WebSocket is named as well: for older browsers 'self' does not cover its scheme.
    """
    return b"; ".join((*_PAGE, b"connect-src 'self' ws://" + host))


def with_security(
    headers: Iterable[tuple[bytes, bytes]], host: bytes, *, keeps: bool = False
) -> Headers:
    """An answer's headers with what is missing; a route may narrow its own policy and caching.

    `keeps` lets the browser keep the answer: of a file whose name changes with its content.
    """
    kept = [(name, value) for name, value in headers if name.lower() not in dict(FORCED)]
    said = {name.lower() for name, _ in kept}
    usual = (
        (b"content-security-policy", page_policy(host)),
        (b"cross-origin-opener-policy", b"same-origin"),
        (b"cache-control", b"private, max-age=31536000, immutable" if keeps else b"no-store"),
    )
    return [*kept, *FORCED, *((name, value) for name, value in usual if name not in said)]
