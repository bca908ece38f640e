"""What is not Python in the packages is installed with them."""

from __future__ import annotations

import tomllib
from fnmatch import fnmatch
from pathlib import Path

ROOT = Path(__file__).parents[1]
ONLY_LEARNT_FROM = {"words/free/heard.txt"}
"""Read by what makes the weights, from a checkout, and by nothing that is installed."""


def test_every_file_of_the_packages_is_installed() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    patterns = project["tool"]["setuptools"]["package-data"]["voice"]
    files = {
        path.relative_to(ROOT / "voice").as_posix()
        for path in (ROOT / "voice").rglob("*")
        if path.is_file() and path.suffix not in {".py", ".pyc"}
    }
    left_out = {one for one in files if not any(fnmatch(one, pattern) for pattern in patterns)}
    assert left_out == ONLY_LEARNT_FROM
    assert not [
        path for path in (ROOT / "pattern").rglob("*.*") if path.suffix not in {".py", ".pyc"}
    ]
