"""Asking the page as a browser on this machine does."""

from __future__ import annotations

import re
import shutil
from html import unescape
from pathlib import Path
from typing import Any

from starlette.testclient import TestClient

from cookbook.kitchen import Kitchen
from cookbook.page import Setting, application
from cookbook.page.keys import Keys

ROOT = Path(__file__).resolve().parent.parent.parent
HOME = "http://127.0.0.1:8417"
PIXEL = bytes.fromhex(
    "89504e470d0a1a0a0000000d4948445200000001000000010802000000907753de0000000c49444154789c63f8cfc0000003010100c9fe92ef"
    "0000000049454e44ae426082"
)


def demonstration(folder: Path) -> Path:
    """The demonstration kitchen, copied."""
    for part in ("recipes", "journal", "shared"):
        shutil.copytree(ROOT / part, folder / part)
    return folder


class Visitor:
    """One browser: it sends what a browser sends, from where one sits."""

    def __init__(
        self, root: Path, *, lan: bool = False, read_only: bool = False, keys: Keys | None = None, **more: Any
    ) -> None:
        addresses = ("192.168.1.5",) if lan else ()
        self.app = application(Setting(root, 8417, addresses, read_only), keys or Keys(None), apart=False)
        self.page = self.app.page
        self.root = root
        self.browser = self.seated(**more)

    def seated(self, home: str = HOME, client: str = "127.0.0.1") -> TestClient:
        """Another browser on the same page."""
        return TestClient(self.app, base_url=home, client=(client, 50000), follow_redirects=False)

    @property
    def kitchen(self) -> Kitchen:
        """The kitchen as its files stand."""
        return Kitchen.open(self.root)

    def see(self, address: str, status: int = 200) -> str:
        """A page's text."""
        answer = self.browser.get(address)
        assert answer.status_code == status, (address, answer.status_code, answer.text[:400])
        return answer.text

    def do(self, address: str, status: int = 303, browser: TestClient | None = None, **fields: Any) -> Any:
        """Send a form with its token, from our own page."""
        browser = browser or self.browser
        home = str(browser.base_url).rstrip("/")
        files = {name: fields.pop(name) for name in ("photo",) if name in fields}
        sent = {"token": self.page.keys.token("owner")} | fields
        answer = browser.post(address, data=sent, files=files or None, headers={"origin": home})
        assert answer.status_code == status, (address, answer.status_code, answer.text[:600])
        return answer


def words(page: str) -> str:
    """A page as it reads: without its tags."""
    return " ".join(unescape(re.sub(r"<[^>]*>", " ", page)).split())
