"""Unpacks the archive of a model: nothing outside its folder, nothing oversized, all or nothing."""

from __future__ import annotations

import hashlib
import os
import shutil
import stat
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path, PurePosixPath
from typing import IO
from zipfile import BadZipFile, ZipFile, ZipInfo

from voice.models.model_errors import BadArchive, ModelDamaged
from voice.models.model_list import Model

SUMS = "rounds-aloud.sha256"
"""The hashes of what was unpacked, inside the model's folder, as `sha256sum --check` reads them."""
LARGEST_BYTES = 1 << 30
"""Largest size unpacked: four times the largest listed model (264 MB)."""
_LARGEST_RATIO = 20
"""Largest size unpacked to packed; weights hardly shrink: the Korean model has a ratio of 3."""
_MOST_ENTRIES = 1000
"""Most files of an archive; the Korean model has 16."""
_BLOCK_BYTES = 1 << 20
_FOREIGN = set('\\:*?"<>|') | {chr(code) for code in range(32)}
_UNREADABLE = (BadZipFile, zlib.error, NotImplementedError, RuntimeError, EOFError, ValueError)


def hash_of(path: Path) -> str:
    """The SHA-256 of a file, in hexadecimal digits."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _fault(entry: ZipInfo, top: str) -> str | None:
    # The name as it stands in the archive: zipfile cuts `filename` at a zero byte.
    name, kind = entry.orig_filename, stat.S_IFMT(entry.external_attr >> 16)
    path = PurePosixPath(name)
    if path.is_absolute() or ".." in path.parts or _FOREIGN & set(name):
        return f"the path {name!r} in it could lead elsewhere"
    if kind not in (0, stat.S_IFREG, stat.S_IFDIR):  # 0: by a system without such kinds
        return f"{name!r} in it is a link or a device"
    if not path.parts or path.parts[0] != top:
        return f"{name!r} in it is outside the folder {top}"
    return None


def _checked(zipped: ZipFile, packed_bytes: int, model: Model) -> list[ZipInfo]:
    entries = zipped.infolist()
    total = sum(entry.file_size for entry in entries)
    if len(entries) > _MOST_ENTRIES:
        raise BadArchive(model.name, f"it holds {len(entries)} files")
    if total > min(LARGEST_BYTES, _LARGEST_RATIO * packed_bytes):
        raise BadArchive(model.name, f"it would unpack from {packed_bytes} to {total} bytes")
    for entry in entries:
        if why := _fault(entry, model.folder):
            raise BadArchive(model.name, why)
    return [entry for entry in entries if not entry.is_dir()]


def _copy(source: IO[bytes], target: Path) -> str:
    target.parent.mkdir(parents=True, exist_ok=True)
    digest = hashlib.sha256()
    with target.open("xb") as file:  # x: of two entries of one name the second is refused
        while block := source.read(_BLOCK_BYTES):
            digest.update(block)
            file.write(block)
        os.fsync(file.fileno())
    return digest.hexdigest()


def _extract(zipped: ZipFile, entries: list[ZipInfo], into: Path) -> Iterator[str]:
    for entry in entries:
        # zipfile never hands out more than the size that was checked, and compares the CRC.
        with zipped.open(entry) as source:
            digest = _copy(source, into / entry.filename)
        yield f"{digest}  {PurePosixPath(*PurePosixPath(entry.filename).parts[1:])}\n"


@contextmanager
def _bad_archive(model: Model) -> Iterator[None]:
    try:
        yield
    except _UNREADABLE as fault:
        raise BadArchive(model.name, f"it cannot be unpacked ({fault})") from fault
    except (FileExistsError, NotADirectoryError, IsADirectoryError) as fault:
        raise BadArchive(model.name, "two files in it have one name") from fault


def unpack(archive: Path, model: Model, folder: Path) -> Path:
    """Unpack beside its place, then move there by renaming; returns the model's folder.

    The archive's own hash is checked by the caller, who also keeps other fetches out.
    Raises: BadArchive, OSError; the model that was in the place before is then still there.
    """
    place = folder / model.folder
    beside, before = folder / f".{model.name}.new", folder / f".{model.name}.old"
    for left_over in (beside, before):
        if left_over.exists():
            shutil.rmtree(left_over)
    beside.mkdir()
    try:
        with _bad_archive(model), ZipFile(archive) as zipped:
            entries = _checked(zipped, archive.stat().st_size, model)
            sums = list(_extract(zipped, entries, beside))
            (beside / model.folder).mkdir(exist_ok=True)
            with (beside / model.folder / SUMS).open("x", encoding="utf-8") as file:
                file.writelines([f"# {model.sha256}  {model.file}\n", *sums])
        if place.exists():
            place.rename(before)
        (beside / model.folder).rename(place)
    finally:
        shutil.rmtree(beside)
    if before.exists():
        shutil.rmtree(before)
    return place


def _found(folder: Path) -> list[str]:
    paths = (path for path in folder.rglob("*") if not path.is_dir() or path.is_symlink())
    return sorted({path.relative_to(folder).as_posix() for path in paths} - {SUMS})


def check(place: Path, model: Model, remedy: str) -> None:
    """Hash every file again and compare with what was unpacked. Raises: ModelDamaged, OSError."""
    if not (place / SUMS).is_file():
        raise ModelDamaged(model.name, place, f"has no {SUMS}", remedy)
    first, *lines = (place / SUMS).read_text("utf-8").splitlines() or [""]
    if first != f"# {model.sha256}  {model.file}":
        raise ModelDamaged(model.name, place, "is of another archive than the listed", remedy)
    kept = {name: digest for digest, _, name in (line.partition("  ") for line in lines)}
    if _found(place) != sorted(kept):
        raise ModelDamaged(model.name, place, "has lost or gained a file", remedy)
    for name, digest in kept.items():
        if hash_of(place / name) != digest:
            raise ModelDamaged(model.name, place / name, "has changed", remedy)
