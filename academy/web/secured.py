"""The headers that every reply carries."""

from __future__ import annotations

from flask import Response, request

SECURITY_HEADERS = {
    "Content-Security-Policy": (
        "default-src 'self'; object-src 'none'; base-uri 'none'; frame-ancestors 'none';"
        " form-action 'self'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Permissions-Policy": "geolocation=(), microphone=()",
}


def secure(response: Response) -> Response:
    """Set what keeps a page to itself, on every reply."""
    for name, value in SECURITY_HEADERS.items():
        response.headers.setdefault(name, value)
    if request.endpoint != "static":
        # a tablet is shared: nothing a signed-in person saw stays in the browser
        response.headers.setdefault("Cache-Control", "no-store")
    return response


def secure_with_tls(response: Response) -> Response:
    """Ask the browser to come by TLS only from now on, too."""
    response.headers["Strict-Transport-Security"] = "max-age=31536000; includeSubDomains"
    return secure(response)
