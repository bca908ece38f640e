"""The answers to a browser on this machine; whoever lacks the token gets none."""

from __future__ import annotations

import secrets
from collections.abc import AsyncIterator, Awaitable, Callable
from dataclasses import dataclass

from starlette.applications import Starlette
from starlette.requests import ClientDisconnect, Request
from starlette.responses import HTMLResponse, Response, StreamingResponse
from starlette.routing import Route

from voice.page.newest import Newest
from voice.page.page_text import POLICY, page

LONGEST_BYTES = 2000
"""Longer words are refused unread."""
_HEADERS = {
    "Cache-Control": "no-store",
    "Content-Security-Policy": POLICY,
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
}


@dataclass(frozen=True, slots=True)
class Door:
    """Who is let in: a browser on this machine that knows the token."""

    host: str
    """As browsers name it, such as "127.0.0.1:8123"."""
    token: str

    def lets_in(self, request: Request, *, sends: bool = False) -> bool:
        """Whether token, host and origin are right; one who sends must name its origin.

        The host is checked against names of other sites that lead here (DNS rebinding).
        """
        told = str(request.path_params["token"])
        known = secrets.compare_digest(told.encode(), self.token.encode())
        origin = request.headers.get("origin", "" if sends else f"http://{self.host}")
        return (
            known and request.headers.get("host") == self.host and origin == f"http://{self.host}"
        )


def application(
    door: Door, newest: Newest, hear: Callable[[bytes], Awaitable[bool]] | None
) -> Starlette:
    """The page and its news; with `hear`, words are taken too: it says whether they were."""

    async def shown(request: Request) -> Response:
        if not door.lets_in(request):
            return _nothing()
        return HTMLResponse(page(typed=hear is not None), headers=_HEADERS)

    async def news(request: Request) -> Response:
        if not door.lets_in(request):
            return _nothing()
        return StreamingResponse(_events(newest), media_type="text/event-stream", headers=_HEADERS)

    async def words(request: Request) -> Response:
        if hear is None or not door.lets_in(request, sends=True):
            return _nothing()
        said = await _within_bounds(request)
        if said is None:
            return Response(status_code=413, headers=_HEADERS)
        taken = await hear(said)
        return Response(status_code=204 if taken else 503, headers=_HEADERS)

    found = Starlette(
        routes=[
            Route("/{token}/", shown),
            Route("/{token}/news", news),
            Route("/{token}/words", words, methods=["POST"]),
        ]
    )
    found.router.redirect_slashes = False  # which would tell what is there without the token
    return found


def _nothing() -> Response:
    return Response(status_code=404, headers=_HEADERS)


async def _events(newest: Newest) -> AsyncIterator[str]:
    """News as server-sent events; a sign of life tells the longest silence in seconds.

    Source: HTML Standard, 9.2.
    """
    alive = f"event: alive\ndata: {newest.quiet_s:g}\n\n"
    yield f"retry: 1000\n{alive}"
    async for content in newest.read():
        yield f"data: {content}\n\n" if content else alive
    yield "event: over\ndata: over\n\n"


async def _within_bounds(request: Request) -> bytes | None:
    """The words on one line; None for too many of them, or for a sender who went away."""
    said = b""
    try:
        async for part in request.stream():
            said += part
            if len(said) > LONGEST_BYTES:
                return None
    except ClientDisconnect:
        return None
    return said.replace(b"\n", b" ").replace(b"\r", b" ")
