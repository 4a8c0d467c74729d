"""What stands before every page: names, origins, tokens, sizes, devices."""

from __future__ import annotations

import asyncio
import gc
import re
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from starlette.routing import Route
from starlette.testclient import TestClient

from cookbook.kitchen import Kitchen
from cookbook.page import Setting
from cookbook.page.guard import MOST_BYTES, MOST_PICTURE_BYTES
from cookbook.page.keys import CODE_LENGTH, CODE_S, DEVICE_S, LETTERS, Keys
from cookbook.page.routing import routes
from cookbook.page.setting import own_addresses
from tests.page.test_after import linked
from tests.page.test_pit import begun
from tests.page.visiting import HOME, Visitor

LAN = "http://192.168.1.5:8417"
POSTS = [route.path for route in routes() if isinstance(route, Route) and "POST" in (route.methods or ())]


def named(path: str) -> str:
    """A route's address with names in the place of its parts."""
    parts = {"recipe": "loin", "entry": "x", "guest": "x", "form": "text", "number": "0", "name": "page.css"}
    for part, name in parts.items():
        path = path.replace("{" + part + "}", name)
    return path


@pytest.mark.parametrize(
    "host",
    ["evil.example", "evil.example:8417", "127.0.0.1", "127.0.0.1:80", "localhost:8418", "127.0.0.1.evil:8417", ""],
)
def test_a_forged_host_gets_nothing(small: Visitor, host: str) -> None:
    answer = small.browser.get("/", headers={"host": host})
    assert answer.status_code == 421
    assert "loin" not in answer.text


def test_two_names_at_once_get_nothing(small: Visitor) -> None:
    for names in (("127.0.0.1:8417", "evil.example"), ("evil.example", "127.0.0.1:8417")):
        assert small.browser.get("/", headers=[("host", name) for name in names]).status_code == 421


@pytest.mark.parametrize("path", POSTS)
@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": "http://127.0.0.1:9999"},
        {"origin": "https://127.0.0.1:8417"},
        {},
    ],
)
def test_a_hostile_page_posts_nothing(small: Visitor, path: str, headers: dict[str, str]) -> None:
    """Even with the right token: it comes from another page, or nobody says from which."""
    answer = small.browser.post(named(path), data={"token": small.page.keys.token("owner")}, headers=headers)
    assert answer.status_code == 403


@pytest.mark.parametrize("path", POSTS)
def test_a_form_without_its_token_does_nothing(small: Visitor, path: str) -> None:
    for fields in ({}, {"token": "0" * 64}, {"token": small.page.keys.token("guest y")}):
        assert small.browser.post(named(path), data=fields, headers={"origin": HOME}).status_code == 403


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_what_another_page_loads_or_frames_is_refused(small: Visitor, site: str) -> None:
    for mode in ("navigate", "no-cors", "cors"):
        answer = small.browser.get("/", headers={"sec-fetch-site": site, "sec-fetch-mode": mode})
        assert answer.status_code == 403


def test_every_answer_carries_the_policy(small: Visitor) -> None:
    for address in ("/", "/nothing", "/static/page.js", "/recipe/loin", "/recipe/nobody"):
        headers = small.browser.get(address).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert "frame-ancestors 'none'" in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "same-origin"
        assert "access-control-allow-origin" not in headers


def test_no_page_holds_a_script_a_style_or_an_address_of_its_own(full: Visitor) -> None:
    for address in ("/", "/recipe/pork-loin-over-cherry", "/recipe/fennel-sage-paste/text", "/new", "/devices"):
        page = full.see(address)
        assert not re.findall(r"<script(?![^>]*\bsrc=\"/static/)", page)
        assert not re.findall(r"<style|\sstyle=|\son[a-z]+=|javascript:", page)
        assert not [
            link
            for link in re.findall(r"(?:src|href|action)=\"([^\"]*)", page)
            if not link.startswith(("/", "#", "data:,"))
        ]


def test_more_than_the_page_takes_is_refused_before_it_is_read(small: Visitor) -> None:
    headers = {"origin": HOME, "content-type": "application/x-www-form-urlencoded"}
    whole = small.browser.post("/recipe/loin/text", content=b"text=" + b"x" * MOST_BYTES, headers=headers)
    assert whole.status_code == 413
    parts = [b"x" * (1 << 20)] * (MOST_BYTES // (1 << 20) + 2)
    streamed = small.browser.post("/recipe/loin/text", content=iter(parts), headers=headers)
    assert streamed.status_code == 413


@pytest.mark.parametrize(("how", "status"), [("too big", 413), ("dropped", 400), ("no last boundary", 400)])
def test_a_picture_that_does_not_come_whole_leaves_nothing_open(small: Visitor, how: str, status: int) -> None:
    """Cut off by us, by a phone that went out of the net, or by what sent it: its file is closed at once."""
    name, part = begun(small), b"y" * (1 << 20)
    head = b'--x\r\nContent-Disposition: form-data; name="photo"; filename="a.jpg"\r\n\r\n'
    parts = [head, *([part] * (MOST_PICTURE_BYTES // len(part) + 1 if how == "too big" else 3))]
    coming = [{"type": "http.request", "body": one, "more_body": True} for one in parts]
    coming[-1]["more_body"] = how != "no last boundary"
    answered: list[Any] = []

    async def receive() -> Any:
        return coming.pop(0) if coming else {"type": "http.disconnect"}

    async def send(message: Any) -> None:
        answered.append(message)

    told = {"host": "127.0.0.1:8417", "origin": HOME, "content-type": "multipart/form-data; boundary=x"}
    scope = {"type": "http", "method": "POST", "path": f"/cook/{name}/photos", "query_string": b"", "scheme": "http"}
    scope |= {"client": ("127.0.0.1", 1), "headers": [(key.encode(), value.encode()) for key, value in told.items()]}
    asyncio.run(small.app(scope, receive, send))
    assert answered[0]["status"] == status
    gc.collect()  # a file that was left open warns here, and a warning is an error


@pytest.mark.parametrize(
    "address",
    [
        "/static/..%2f..%2fpyproject.toml",
        "/static/../guard.py",
        "/recipe/..%2f..%2fshared%2fkitchen/text",
        "/recipe/%2e%2e/text",
        "/cook/..%2f..%2fshared%2fkitchen",
        "/cook/x/photo/..%2f..%2f..%2fetc%2fpasswd",
        "/recipe/loin%00/text",
    ],
)
def test_no_path_leads_out_of_the_kitchen(small: Visitor, address: str) -> None:
    assert small.browser.get(address).status_code in (400, 404)


def test_a_recipe_is_written_nowhere_but_among_the_recipes(small: Visitor) -> None:
    before = sorted(small.root.rglob("*"))
    for name in ("..%2fjournal%2fx", "..%2f..%2fx", "%2e%2e%2fx", "X", "a b", "con.yaml", "-x", "x" * 200):
        small.do(f"/recipe/{name}/text", 400 if "%2f" not in name else 404, text="kind: rub\n", seen="")
    assert [path for path in sorted(small.root.rglob("*")) if path.name != ".cookbook-lock"] == before


def test_a_page_to_look_at_changes_nothing(make_kitchen: Callable[..., Kitchen]) -> None:
    visitor = Visitor(make_kitchen().root, read_only=True)
    before = {path: path.read_bytes() for path in visitor.root.rglob("*") if path.is_file()}
    for path in POSTS:
        if not path.startswith(("/pair", "/devices")):
            visitor.do(named(path), 403)
    assert "Cook</a>" not in visitor.see("/")
    assert {path: path.read_bytes() for path in visitor.root.rglob("*") if path.is_file()} == before


def test_a_page_to_look_at_holds_no_form_that_is_refused(full: Visitor) -> None:
    name = begun(full, "pork-loin-over-cherry")
    link = linked(full, name)
    looking = Visitor(full.root, read_only=True, keys=full.page.keys)
    done = "/cook/2026-10-17-pork-loin-over-cherry"
    for address in ("/", "/recipe/fennel-sage-paste", "/recipe/fennel-sage-paste/text", f"/cook/{name}", done,
                    f"/cook/{name}/after", f"{done}/after", f"{done}/made"):  # fmt: skip
        assert 'method="post"' not in looking.see(address), address
        assert not re.findall(r'href="[^"]*(?:/start|/new|/adopt)"', looking.see(address)), address
    for address in ("/new", "/recipe/rib-roast-on-oak/start", f"{done}/adopt", link):
        assert "may only be looked at" in looking.see(address, 403), address


# phones in the house's net


def test_a_phone_is_paired_by_a_code_and_forgotten_again(make_kitchen: Callable[..., Kitchen]) -> None:
    owner = Visitor(make_kitchen().root, lan=True)
    phone = owner.seated(LAN, "192.168.1.77")
    assert phone.get("/").headers["location"] == "/pair"
    assert phone.get("/token").status_code == 303
    assert phone.post("/recipe/loin/start", headers={"origin": LAN}).status_code == 401
    token, code = owner.page.keys.token("nobody"), owner.page.keys.code
    assert code is not None
    assert f"{code[:4]} {code[4:]}" in owner.see("/devices")
    paired = phone.post("/pair", data={"token": token, "code": code.lower()}, headers={"origin": LAN})
    cookie = paired.headers["set-cookie"].casefold()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert f"max-age={int(DEVICE_S)}" in cookie
    assert phone.get("/").status_code == 200
    again = owner.seated(LAN, "192.168.1.78").post(
        "/pair", data={"token": token, "code": code}, headers={"origin": LAN}
    )
    assert again.status_code == 403, "a code pairs one device"
    assert code[:4] not in owner.see("/devices"), "a code that was used is shown no more"
    (device,) = owner.page.keys.devices()
    owner.do("/devices/forget", key=device.key)
    assert phone.get("/").status_code == 303


def test_who_only_says_to_be_this_machine_is_not(make_kitchen: Callable[..., Kitchen]) -> None:
    owner = Visitor(make_kitchen().root, lan=True)
    for home in (HOME, "http://localhost:8417"):
        liar = owner.seated(home, "192.168.1.66")
        assert liar.get("/").status_code == 303
    assert owner.seated(LAN, "127.0.0.1").get("/").status_code == 303, (
        "by its address in the net it is a phone like any"
    )


def test_five_wrong_codes_end_pairing_until_the_page_starts_again(make_kitchen: Callable[..., Kitchen]) -> None:
    owner = Visitor(make_kitchen().root, lan=True)
    phone = owner.seated(LAN, "192.168.1.77")
    token, code = owner.page.keys.token("nobody"), owner.page.keys.code
    for _ in range(5):
        assert (
            phone.post("/pair", data={"token": token, "code": "WRONGONE"}, headers={"origin": LAN}).status_code == 403
        )
    right = phone.post("/pair", data={"token": token, "code": code}, headers={"origin": LAN})
    assert right.status_code == 403
    assert "Too many wrong codes" in right.text
    assert owner.page.keys.pair(owner.page.keys.new_code(), "late") is None


def test_wrong_codes_over_many_connections_at_once_end_it_all_the_same(make_kitchen: Callable[..., Kitchen]) -> None:
    owner = Visitor(make_kitchen().root, lan=True)
    token, code = owner.page.keys.token("nobody"), owner.page.keys.code

    def guess(number: int) -> int:
        phone = owner.seated(LAN, f"192.168.1.{100 + number}")
        fields = {"token": token, "code": f"AAAAAAA{LETTERS[number]}"}
        return int(phone.post("/pair", data=fields, headers={"origin": LAN}).status_code)

    with ThreadPoolExecutor(8) as pool:
        assert set(pool.map(guess, range(16))) == {403}
    assert owner.page.keys.pairing_ended
    assert owner.page.keys.pair(str(code), "late") is None


def test_only_who_stands_at_the_machine_lets_one_more_in(make_kitchen: Callable[..., Kitchen]) -> None:
    owner = Visitor(make_kitchen().root, lan=True)
    keys = owner.page.keys
    key = keys.pair(str(keys.code), "a phone")
    phone = owner.seated(LAN, "192.168.1.77")
    phone.cookies.set("cookbook_device", str(key))
    assert phone.get("/").status_code == 200
    token = keys.token(str(keys.device(str(key))))
    owner.do("/devices/code", 400, phone, token=token)
    assert "Another code" not in owner.see("/devices"), "none was made"
    owner.do("/devices/code")
    assert "Another code" in owner.see("/devices")
    assert "Another code" not in phone.get("/devices").text


def test_a_code_lasts_ten_minutes_and_a_device_a_day() -> None:
    now = [1000.0]
    keys = Keys(None, lambda: now[0])
    code = keys.new_code()
    assert len(code) == CODE_LENGTH == 8
    assert set(code) <= set(LETTERS)
    now[0] += CODE_S + 1
    assert keys.pair(code, "late") is None
    key = keys.pair(f" {(fresh := keys.new_code())[:4]}-{fresh[4:].lower()} ", "a phone")
    assert key is not None
    assert keys.device(key)
    now[0] += DEVICE_S + 1
    assert keys.device(key) is None
    assert keys.devices() == []


def test_devices_and_guests_outlive_a_restart_as_digests(tmp_path: Path) -> None:
    file = tmp_path / "page.json"
    keys = Keys(file)
    key, link = keys.pair(keys.new_code(), "a phone"), keys.new_guest("2026-11-27-loin")
    assert key is not None
    again = Keys(file)
    assert again.device(key)
    assert again.guest(link) == "2026-11-27-loin"
    assert key not in file.read_text()
    assert link not in file.read_text()
    assert file.stat().st_mode & 0o077 == 0
    file.write_text("{")
    assert Keys(file).devices() == []


def test_the_address_that_is_not_loopback_is_this_machine_s_own() -> None:
    for address in own_addresses():
        assert Setting(Path(), 8417, (address,)).home == f"http://{address}:8417"
        assert not address.startswith("127.")


def test_the_unknown_see_the_look_and_the_pairing_and_nothing_else(make_kitchen: Callable[..., Kitchen]) -> None:
    owner = Visitor(make_kitchen().root, lan=True)
    stranger: TestClient = owner.seated(LAN, "192.168.1.99")
    open_to_all = {route.path for route in routes() if stranger.get(named(route.path)).status_code == 200}
    assert open_to_all == {"/pair", "/static/{name}"}
    assert "loin" not in stranger.get("/pair").text.casefold()
