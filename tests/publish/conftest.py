"""Fixtures of the publishing tests: a browser, if the machine has one."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest


@pytest.fixture(scope="session")
def print_to_pdf(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], bytes]:
    """Prints an HTML text as a browser would, and gives the PDF's bytes."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        pytest.skip("needs chromium to print a page; the one-side-of-paper rule is not checked here")
    options = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run"]

    def printed(html: str) -> bytes:
        folder: Path = tmp_path_factory.mktemp("print")
        (folder / "page.html").write_text(html, "utf-8")
        pdf = folder / "page.pdf"
        subprocess.run(
            [chromium, *options, f"--user-data-dir={folder / 'profile'}", f"--print-to-pdf={pdf}",
             "--no-pdf-header-footer", (folder / "page.html").as_uri()],
            check=True, capture_output=True, timeout=120,
        )  # fmt: skip
        return pdf.read_bytes()

    return printed
