"""A browser for the tests: Debian's Chromium, or whatever Playwright was given; none is a skip, or a failure where it is wanted."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

WANTED = "BARRIER_BROWSER_WANTED"  # set by .ci/run: a missing browser is then a failure and no skip
NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
)  # fmt: skip


def _none(why: str) -> None:
    if os.environ.get(WANTED):
        pytest.fail(f"{WANTED} is set, and {why}")
    pytest.skip(why)


@contextmanager
def browser() -> Iterator[Any]:
    """A running browser, closed at the end."""
    try:
        from playwright.sync_api import Error, sync_playwright
    except ImportError:
        _none("Playwright for Python is not installed (pip install '.[browser]')")
        raise
    path = next((found for name in NAMES if (found := shutil.which(name))), None)
    with sync_playwright() as playwright:
        try:
            started = playwright.chromium.launch(executable_path=path, args=list(FLAGS))
        except Error as fault:
            _none(f"no browser starts (apt-get install chromium): {str(fault).splitlines()[0]}")
            raise
        try:
            yield started
        finally:
            started.close()


class Opened:
    """A page that was opened, with what it asked for and complained about; ``context`` says how (window, touch, light)."""

    def __init__(self, chromium: Any, file: Path, **context: Any) -> None:
        self.own = file.as_uri()
        self.context = chromium.new_context(**context)
        self.page = self.context.new_page()
        self.asked: list[str] = []
        self.said: list[str] = []
        self.page.on("request", lambda r: self.asked.append(r.url))
        self.page.on("console", lambda m: self.said.append(m.text))
        self.page.on("pageerror", lambda e: self.said.append(str(e)))
        self.page.goto(self.own)
