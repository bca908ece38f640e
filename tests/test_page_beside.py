"""The page beside the maker: who is let in, what is shown, and that nobody waits for a reader."""

from __future__ import annotations

import base64
import http.client
import json
import re
import socket
import sys
import threading
import webbrowser
from argparse import ArgumentParser
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager
from dataclasses import dataclass
from email.message import Message
from hashlib import sha256
from queue import SimpleQueue
from urllib.parse import urlsplit

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pattern.session import commands as c
from tests.pieces import NEXT, Story, begun, stories, told
from tests.properties import examples
from voice.caller.typed import InputLost
from voice.cli import page_options
from voice.cli.call_screen import Screen
from voice.page import beside as beside_module
from voice.page.beside import PageBeside
from voice.page.both_lines import BothLines
from voice.page.page_text import POLICY, page
from voice.page.said import Said
from voice.page.shown import as_data, where

LIMIT_S = 30.0


@pytest.fixture
def words() -> SimpleQueue[bytes]:
    """The words that were sent from the page."""
    return SimpleQueue()


@pytest.fixture
def beside(words: SimpleQueue[bytes]) -> Iterator[PageBeside]:
    """A page that takes words."""

    def hear(said: bytes) -> bool:
        words.put(said)
        return True

    with PageBeside(hear=hear) as found:
        yield found


@dataclass(frozen=True)
class Answer:
    """The whole answer to a request."""

    status: int
    headers: Message
    body: bytes


def asked(
    beside: PageBeside,
    path: str = "",
    *,
    method: str = "GET",
    body: bytes | None = None,
    token: str | None = None,
    **headers: str,
) -> Answer:
    """The answer to a request under the token, or another one."""
    found = urlsplit(beside.address)
    known = found.path if token is None else f"/{token}/"
    with closing(http.client.HTTPConnection(found.netloc, timeout=LIMIT_S)) as connection:
        connection.request(method, known + path, body, {**headers, "Connection": "close"})
        answer = connection.getresponse()
        return Answer(answer.status, answer.headers, answer.read())


@contextmanager
def reader(address: str) -> Iterator[http.client.HTTPResponse]:
    """The news of a page, as long as they are read."""
    found = urlsplit(address)
    with closing(http.client.HTTPConnection(found.netloc, timeout=LIMIT_S)) as connection:
        connection.request("GET", f"{found.path}news")
        with connection.getresponse() as answer:
            yield answer


def news(answer: http.client.HTTPResponse) -> dict[str, str]:
    """The next content that the server sends."""
    while True:
        line = answer.readline()
        assert line, "the news have ended"
        if line.startswith(b"data: {"):
            content: dict[str, str] = json.loads(line.removeprefix(b"data: "))
            return content


def test_only_this_machine_with_the_token_is_let_in(beside: PageBeside) -> None:
    """OWASP: DNS rebinding is met by the host, other sites by origin and token (from memory)."""
    host = urlsplit(beside.address).netloc
    assert host.startswith("127.0.0.1:")
    assert asked(beside).status == 200
    assert asked(beside, Origin=f"http://{host}").status == 200
    for token in ("", "x", urlsplit(beside.address).path.strip("/")[:-1] + "?"):
        assert asked(beside, token=token).status == 404
    for path in ("", "news"):
        assert asked(beside, path, Host="elsewhere.example").status == 404
        assert asked(beside, path, Host=host.replace("127.0.0.1", "localhost")).status == 404
        assert asked(beside, path, Origin="http://elsewhere.example").status == 404
        assert asked(beside, path, Origin="null").status == 404
    with PageBeside() as other:
        assert urlsplit(other.address).path != urlsplit(beside.address).path


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux has all of 127.0.0.0/8")
def test_it_listens_at_the_loopback_address_alone(beside: PageBeside) -> None:
    """RFC 1122, 3.2.1.3: 127.0.0.2 is this machine too; a server of all addresses would answer."""
    port = urlsplit(beside.address).port
    assert port
    socket.create_connection(("127.0.0.1", port), LIMIT_S).close()
    with pytest.raises(ConnectionRefusedError):
        socket.create_connection(("127.0.0.2", port), LIMIT_S).close()


def test_words_are_taken_from_the_page_alone(beside: PageBeside, words: SimpleQueue[bytes]) -> None:
    origin = beside.address.partition("//")[2].partition("/")[0]
    for headers in ({}, {"Origin": "http://elsewhere.example"}, {"Origin": "null"}):
        assert asked(beside, "words", method="POST", body=b"next", **headers).status == 404
    own = {"Origin": f"http://{origin}"}
    assert asked(beside, "words", method="POST", body=b"x" * 2001, **own).status == 413
    assert words.empty()
    assert asked(beside, "words", method="POST", body=b"next\nleave\r", **own).status == 204
    assert words.get(timeout=LIMIT_S) == b"next leave "
    with PageBeside() as deaf:
        host = urlsplit(deaf.address).netloc
        sent = asked(deaf, "words", method="POST", body=b"next", Origin=f"http://{host}")
        assert sent.status == 404
        assert b"<form" not in asked(deaf).body


def test_the_policy_allows_this_style_and_this_script_and_nothing_else(
    beside: PageBeside,
) -> None:
    """W3C Content Security Policy 3: hashes are those of the text between the tags."""
    answer = asked(beside)
    text = answer.body.decode()
    assert answer.headers["Content-Security-Policy"] == POLICY
    assert "unsafe" not in POLICY
    for tag in ("style", "script"):
        (inner,) = re.findall(rf"<{tag}>(.*?)</{tag}>", text, re.S)
        digest = base64.b64encode(sha256(inner.encode()).digest()).decode()
        assert f"{tag}-src 'sha256-{digest}'" in POLICY
    assert not re.search(r"\b(src|href|style|on\w+)=", text)
    assert answer.headers["Cache-Control"] == "no-store"


@settings(max_examples=examples(25))
@given(stories(), st.text(max_size=200))
def test_what_is_shown_is_whole_at_any_moment(story: Story, text: str) -> None:
    """Full words as they were said; of the round, what the session knows."""
    state = story.state
    said = Said(text, state)
    content = json.loads(as_data(said))
    assert content["said"] == text
    assert json.loads(as_data(Said.of_line(said.as_line()))) == content
    assert "\n" not in as_data(Said(text, state))
    if state.offered is not None:
        assert f"Round {state.offered.number} of about " in content["where"]
        assert f"<title>Round {state.offered.number}</title>" in content["ring"]
    assert not re.search(r"\b(nan|inf)\b", content["ring"] + content["piece"])


def test_the_ring_tells_the_repeats_that_are_worked() -> None:
    state = told(begun(), *[NEXT] * 6, c.Sets(2))
    assert where(state) == "Round 7 of about 34, crown. 2 of 6 repeats worked."
    ring = json.loads(as_data(Said("", state)))["ring"]
    assert "6 increases, 42 stitches, 2 of 6 repeats worked." in ring.replace(
        "Increases", "increases"
    )


def test_readers_get_the_newest_and_nobody_waits_for_them(beside: PageBeside) -> None:
    """Twenty read, one never does: it shows on, and each reader ends with the last words."""
    state = begun()
    host, port = urlsplit(beside.address).netloc.split(":")
    with ExitStack() as opened:
        readers = [opened.enter_context(reader(beside.address)) for _ in range(20)]
        never = opened.enter_context(socket.create_connection((host, int(port))))
        never.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 1024)
        path = urlsplit(beside.address).path
        never.sendall(f"GET {path}news HTTP/1.1\r\nHost: {host}:{port}\r\n\r\n".encode())
        for number in range(2000):
            beside.show(f"words {number}", state)
        for one in readers:
            while news(one)["said"] != "words 1999":
                pass
        late = opened.enter_context(reader(beside.address))
        assert news(late)["said"] == "words 1999"


def test_it_ends_whatever_readers_are_there() -> None:
    with ExitStack() as opened:
        with PageBeside() as beside:
            one = opened.enter_context(reader(beside.address))
            beside.show("words", begun())
            assert news(one)["said"] == "words"
            beside.show("last words", begun())
        assert news(one)["said"] == "last words"
        assert b"event: over\ndata: over\n" in one.read()
        assert not [one for one in threading.enumerate() if one.name.startswith("page")]
        with pytest.raises(OSError, match="refused"):
            asked(beside)


def test_the_call_goes_on_where_the_server_ends_before_it() -> None:
    with PageBeside() as beside:
        beside._process.kill()
        beside._process.wait()
        for text in ("words", "more words"):
            beside.show(text, begun())
    assert not [one for one in threading.enumerate() if one.name.startswith("page")]


def test_a_missing_package_is_told_before_anything_starts(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(beside_module, "find_spec", lambda _name: None)
    with pytest.raises(ImportError, match="starlette"):
        PageBeside()


def test_a_port_that_is_taken_is_another_port() -> None:
    with socket.socket() as holder:
        holder.bind(("127.0.0.1", 0))
        port = holder.getsockname()[1]
        with PageBeside(port) as beside:
            assert beside.taken
            assert urlsplit(beside.address).port != port
            assert asked(beside).status == 200


def test_the_screen_shows_beside_what_it_prints(capsys: pytest.CaptureFixture[str]) -> None:
    """In a call by voice too: what is said aloud goes to the page."""
    shown: list[str] = []
    Screen(None, shown.append).said("Round two.")
    assert shown == ["Round two."]
    assert capsys.readouterr().out == "Round two.\n"


def test_typed_lines_and_those_of_the_page_end_with_the_stream() -> None:
    class Lost:
        def readline(self, _most: int) -> bytes:
            raise OSError(5, "gone")

    both = BothLines(Lost())  # type: ignore[arg-type]
    assert both.hear(b"next")
    found = iter(both)
    assert next(found) == b"next"
    with pytest.raises(InputLost, match="gone"):
        next(found)
    full = BothLines(Lost())  # type: ignore[arg-type]
    assert [full.hear(b"x") for _ in range(65)].count(False) == 1


def test_a_page_for_a_call_by_voice_has_no_field() -> None:
    """Nothing on it must be touched."""
    assert page(typed=False) == re.sub(r"<form.*</form>", "", page(typed=True))


def test_without_the_packages_one_sentence_says_so_and_the_call_goes_on(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setitem(sys.modules, "voice.page.beside", None)
    parser = ArgumentParser()
    page_options.add_arguments(parser)
    with page_options.page_of(parser.parse_args(["--page"]), None) as found:
        assert found is None
    assert capsys.readouterr().err == f"{page_options.MISSING}\n"
    with page_options.page_of(parser.parse_args([]), None) as found:
        assert found is None
    for port in ("0", "65536", "x", "-1"):
        with pytest.raises(SystemExit):
            parser.parse_args(["--page", f"--page-port={port}"])


def test_a_taken_port_is_told_with_the_address(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def none() -> None:
        raise webbrowser.Error

    monkeypatch.setattr(webbrowser, "get", none)
    parser = ArgumentParser()
    page_options.add_arguments(parser)
    with socket.socket() as holder:
        holder.bind(("127.0.0.1", 0))
        port = holder.getsockname()[1]
        with page_options.page_of(parser.parse_args(["--page", f"--page-port={port}"]), None):
            told_ = capsys.readouterr().err
    assert re.fullmatch(
        rf"Port {port} is taken\. The page beside you is at http://127\.0\.0\.1:\d+/[\w-]+/: "
        r"open it in a browser\n",
        told_,
    )
