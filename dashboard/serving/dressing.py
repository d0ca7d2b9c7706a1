"""What every answer carries, whoever made it: what a browser may do with it, how long it keeps, and errors in plain words."""

from __future__ import annotations

import re
from secrets import token_urlsafe

from tornado.httputil import HTTPHeaders, HTTPServerRequest
from tornado.web import OutputTransform

from dashboard.serving.bringing.frame import HOME

_ELSEWHERE = "default-src 'none'; frame-ancestors 'none'"
# What a page may do; docs/threats.md says why of each.
_PAGE = (
    "default-src 'none'",
    "script-src 'self' 'nonce-{nonce}'",
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "font-src 'self'",
    "connect-src 'self' blob:",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
)
# Pages with forms, which say themselves what went wrong.
_FORMS = re.compile(rf"{HOME}(/.*)?")
_SCRIPT = re.compile(rb"<script(?=[\s>])(?![^>]*\ssrc\s*=)", re.IGNORECASE)

_SENTENCES = {
    403: "That is not given out.",
    404: "There is nothing at this address; the page is at /.",
    503: "This server is being stopped; try again in a moment.",
}
_ASKED_WRONGLY = "That could not be understood; the page is at /."
_WENT_WRONG = (
    "That could not be made; try again, and if it stays so tell whoever runs this server: its log says why."
)


class Dressed(OutputTransform):
    """Sets the headers of an answer, and puts one sentence in the place of an error's page.

    Of a page, the scripts the server wrote on it are marked by a number made for this answer alone: only these run. The loader of
    modules marks with it what it adds itself.
    """

    def __init__(self, request: HTTPServerRequest) -> None:
        self._forms = _FORMS.fullmatch(request.path) is not None

    def transform_first_chunk(
        self, status_code: int, headers: HTTPHeaders, chunk: bytes, finishing: bool
    ) -> tuple[int, HTTPHeaders, bytes]:
        html = headers.get("Content-Type", "").startswith("text/html")
        if status_code >= 400 and html and not self._forms:
            chunk, html = sentence(status_code).encode() + b"\n", False
            headers["Content-Type"] = "text/plain; charset=UTF-8"
            headers["Content-Length"] = str(len(chunk))
        if html:
            nonce = token_urlsafe(16)
            chunk = _SCRIPT.sub(b'<script nonce="%s"' % nonce.encode(), chunk)
            if "Content-Length" in headers:
                headers["Content-Length"] = str(len(chunk))
        page = "; ".join(_PAGE).replace(
            "form-action 'none'", f"form-action '{'self' if self._forms else 'none'}'"
        )
        headers["Content-Security-Policy"] = page.format(nonce=nonce) if html else _ELSEWHERE
        headers["X-Content-Type-Options"] = "nosniff"
        # An address holds every choice. A form has to say where it comes from, and it does so to this server alone.
        headers["Referrer-Policy"] = "same-origin" if self._forms else "no-referrer"
        headers["Cross-Origin-Resource-Policy"] = "same-origin"
        if "Cache-Control" not in headers:  # a file without its version in the address: asked after each time
            headers["Cache-Control"] = "no-cache" if status_code < 400 else "no-store"
        headers.pop("Server", None)
        return status_code, headers, chunk


def sentence(status: int) -> str:
    """What a person is told of an error, by its number."""
    return _SENTENCES.get(status, _WENT_WRONG if status >= 500 else _ASKED_WRONGLY)
