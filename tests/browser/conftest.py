"""A headless browser that may reach nothing, and the pages that equipour writes."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, sync_playwright

from tests.browser.written import Written, write_pages

FLAGS = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip


@pytest.fixture(scope="session")
def written(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Written]:
    """Every page by its name, once in a file."""
    return write_pages(tmp_path_factory.mktemp("pages"))


@pytest.fixture(scope="session")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[BrowserContext]:
    """The system's Chromium with a profile of its own; where there is none, every test fails."""
    program = shutil.which("chromium")
    assert program, "there is no chromium: apt-get install chromium"
    with sync_playwright() as playwright:
        context = playwright.chromium.launch_persistent_context(
            tmp_path_factory.mktemp("profile"),
            executable_path=program,
            args=list(FLAGS),
            headless=True,
        )
        yield context
        context.close()


class Window:
    """A page of the browser that keeps what was asked for and what went wrong."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.asked: list[str] = []
        self.said: list[str] = []
        page.on("request", lambda request: self.asked.append(request.url))
        page.on("console", lambda message: self.said.append(message.text))
        page.on("pageerror", lambda error: self.said.append(str(error)))

    def open(
        self, path: Path, width: int = 768, *, dark: bool = False, print_: bool = False
    ) -> None:
        """Show a file in a window of a width in CSS pixels."""
        self.page.set_viewport_size({"width": width, "height": 800})
        self.page.emulate_media(
            color_scheme="dark" if dark else "light", media="print" if print_ else "screen"
        )
        self.page.goto(path.as_uri())


@pytest.fixture
def window(browser: BrowserContext) -> Iterator[Window]:
    page = browser.new_page()
    yield Window(page)
    page.close()
