"""Fetches the archive of a model over HTTP, and resumes where an earlier try broke off."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from http.client import HTTPException, HTTPMessage, HTTPResponse
from pathlib import Path
from typing import IO, Any, cast
from urllib.error import HTTPError, URLError
from urllib.parse import urlsplit
from urllib.request import HTTPRedirectHandler, Request, build_opener

from filelock import FileLock, Timeout

from voice.models.model_errors import BadArchive, BrokenOff, CannotKeep, NoConnection, ServerRefused
from voice.models.model_list import Model
from voice.models.unpacking import hash_of, unpack

Progress = Callable[[int, int], object]
"""Called with the number of bytes received so far, and with the total."""
_BLOCK_BYTES = 1 << 16
_SILENCE_S = 20.0
"""A server silent for longer counts as gone."""


class NoWeaker(HTTPRedirectHandler):
    """Follows redirects, but never from https to anything else."""

    def redirect_request(  # noqa: PLR0917 - as its parent
        self, req: Request, fp: IO[bytes], code: int, msg: str, headers: HTTPMessage, newurl: str
    ) -> Request | None:
        """The request for the new address. Raises: URLError for one that leaves https."""
        if req.type == "https" and urlsplit(newurl).scheme != "https":
            raise URLError("it redirects to an address that is not safe")
        return super().redirect_request(req, fp, code, msg, headers, newurl)

    def http_error_302(
        self, req: Request, fp: IO[bytes], code: int, msg: str, headers: HTTPMessage
    ) -> Any:  # noqa: ANN401 - as its parent
        """Answer of the redirected request; a redirect to no address closes the connection."""
        try:
            return super().http_error_302(req, fp, code, msg, headers)
        except BaseException:
            fp.close()
            raise

    http_error_301 = http_error_303 = http_error_307 = http_error_308 = http_error_302


@contextmanager
def _folder_of_one(folder: Path, model: Model) -> Iterator[None]:
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with FileLock(folder / f".{model.name}.lock", blocking=False):
            yield
    except Timeout:
        raise CannotKeep(folder, f"{model.name} is being fetched there already") from None
    except OSError as fault:
        raise CannotKeep(folder, fault.strerror or str(fault)) from fault


@contextmanager
def _opened(model: Model, url: str, part: Path, start: int) -> Iterator[HTTPResponse]:
    headers = {"User-Agent": "rounds-aloud"} | ({"Range": f"bytes={start}-"} if start else {})
    try:
        # The list allows only https (checked when it is read).
        opener = build_opener(NoWeaker)
        answer = cast(HTTPResponse, opener.open(Request(url, headers=headers), timeout=_SILENCE_S))
    except HTTPError as fault:
        fault.close()
        if fault.code == 416:  # longer than the file there now (RFC 9110, 15.5.17)
            part.unlink()
        raise ServerRefused(model.name, url, f"{fault.code} {fault.reason}") from fault
    except (URLError, HTTPException, OSError, ValueError) as fault:
        # ValueError: the server redirects to no valid address.
        why = fault.reason if isinstance(fault, URLError) else fault
        raise NoConnection(model.name, url, str(why)) from fault
    with answer:
        yield answer


def _starts_at(answer: HTTPResponse, asked: int, model: Model, url: str) -> int:
    """Offset of the body: a server may answer a request for a range with the whole file."""
    if answer.status == 200:
        return 0
    given = re.match(r"bytes ([0-9]{1,15})-", answer.headers.get("Content-Range", ""))
    if answer.status == 206 and asked and given and int(given[1]) == asked:
        return asked
    raise ServerRefused(model.name, url, f"{answer.status} with another part than was asked for")


def _blocks(answer: HTTPResponse, model: Model, done: int) -> Iterator[bytes]:
    try:
        while block := answer.read(_BLOCK_BYTES):
            done += len(block)
            yield block
    except (OSError, HTTPException) as fault:
        raise BrokenOff(model.name, done, model.size_bytes, str(fault)) from fault
    if done < model.size_bytes:
        raise BrokenOff(model.name, done, model.size_bytes, "the server stopped")


def _download(model: Model, url: str, part: Path, progress: Progress) -> None:
    size = model.size_bytes
    done = part.stat().st_size if part.exists() else 0
    if done >= size:
        return
    with _opened(model, url, part, done) as answer:
        done = _starts_at(answer, done, model, url)
        with part.open("ab" if done else "wb") as file:
            progress(done, size)
            for block in _blocks(answer, model, done):
                file.write(block)
                done += len(block)
                progress(done, size)
                if done > size:  # not the listed archive: no need to see how long it gets
                    return


def _check_hash(model: Model, part: Path) -> None:
    if (size := part.stat().st_size) != model.size_bytes:
        raise BadArchive(model.name, f"it is longer than the listed {model.size_bytes} bytes")
    if (digest := hash_of(part)) != model.sha256:
        raise BadArchive(model.name, f"its {size} bytes have the wrong SHA-256 {digest}")


def fetch_archive(model: Model, url: str, folder: Path, progress: Progress) -> Path:
    """Fetch, check and unpack one model; returns its folder.

    The bytes that came before a break are kept in the folder, and the next call resumes there.
    Raises: NoConnection, ServerRefused, BrokenOff, BadArchive, CannotKeep.
    """
    with _folder_of_one(folder, model):
        part = folder / f".{model.name}.part"
        _download(model, url, part, progress)
        try:
            _check_hash(model, part)
            place = unpack(part, model, folder)
        except BadArchive:
            part.unlink()
            raise
        part.unlink()
        return place
