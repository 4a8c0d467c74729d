"""Whatever is sent to any address: an answer, never a failure, and nothing written that would not read."""

from __future__ import annotations

from typing import Any
from urllib.parse import quote

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as some
from starlette.routing import Route

from cookbook.errors import ERROR
from cookbook.kitchen.checking import check
from cookbook.page.routing import routes
from tests.page.test_after import linked
from tests.page.test_pit import begun
from tests.page.visiting import HOME, PIXEL, Visitor, demonstration

FIELDS = (
    "words", "weight", "ribs", "length", "girth", "form", "take", "today", "text", "seen", "title", "kind", "cut",
    "id", "start", "send", "number", "scale", "piece", "age", "score", "half", "next", "aspect", "by", "caption",
    "how", "value", "item", "into", "name", "score crust", "code", "label", "key", "all",
    "ago", "example", "eat", "who",
)  # fmt: skip
TEXT = some.one_of(
    some.text(max_size=40),
    some.sampled_from(
        ["", "0", "-1", "1e400", "nan", "\x00", "'; --", "a: b: c", "{[", "- x", "reading core", "event lit", "line",
         "reading ../..", "3.1 kg", "4.4", "cook", "amount", "70 g", "garlic", "fennel-sage-paste", "../../x", "😀",
         "\u202e", "\ufeff", "a\nb", "%", "kind: rub\ntitle: x\n", "&<>\"'", "page", "10", "=", "#", "!!python/x",
         "²", "٣", "1e9"],
    ),
)  # fmt: skip


@pytest.fixture(scope="module")
def visited(tmp_path_factory: pytest.TempPathFactory) -> tuple[Visitor, dict[str, list[str]]]:
    visitor = Visitor(demonstration(tmp_path_factory.mktemp("fuzzed") / "kitchen"))
    name = begun(visitor, "pork-loin-over-cherry", weight="1.2")
    guest = linked(visitor, name).rpartition("/")[2]
    parts = {
        "recipe": ["fennel-sage-paste", "pork-loin-over-cherry", "fennel-sage-paste@2"],
        "entry": [name, "2026-10-17-pork-loin-over-cherry"],
        "guest": [guest],
        "form": ["text", "page", "json-ld", "description"],
        "number": ["0"],
        "name": ["page.js"],
    }
    return visitor, parts


def address(draw: Any, path: str, parts: dict[str, list[str]]) -> str:
    for part, known in parts.items():
        if "{" + part + "}" in path:
            name = draw(some.one_of(some.sampled_from(known), some.sampled_from(known), TEXT))
            path = path.replace("{" + part + "}", quote(name, safe="") or "x")
    return path


def ask(visited: tuple[Visitor, dict[str, list[str]]], data: Any) -> None:
    visitor, parts = visited
    draw = data.draw
    route = draw(
        some.sampled_from([one for one in routes() if isinstance(one, Route) and not one.path.endswith("changes")])
    )
    path = address(draw, route.path, parts)
    fields = draw(some.dictionaries(some.sampled_from(FIELDS), TEXT, max_size=7))
    headers = {"origin": HOME, **({"x-page": "1"} if draw(some.booleans()) else {})}
    if "POST" not in (route.methods or ()):
        answer = visitor.browser.get(path, params=fields)
    else:
        who = f"guest {path.rpartition('/')[2]}" if route.path.startswith("/guest") else "owner"
        files = {"photo": ("x", draw(some.sampled_from([PIXEL, b"", b"\xff\xd8\xff", b"text"])), "image/png")}
        sent = fields | {"token": visitor.page.keys.token(who)}
        answer = visitor.browser.post(path, data=sent, files=files if "photo" in path else None, headers=headers)
    assert answer.status_code < 500, (route.path, path, fields, answer.text[:300])


@given(data=some.data())
@settings(
    max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
)
def test_no_address_fails(visited: tuple[Visitor, dict[str, list[str]]], data: Any) -> None:
    ask(visited, data)


@pytest.mark.long
@given(data=some.data())
@settings(
    max_examples=4000,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
def test_no_address_fails_however_often(visited: tuple[Visitor, dict[str, list[str]]], data: Any) -> None:
    ask(visited, data)


def test_what_was_sent_left_a_kitchen_that_reads(visited: tuple[Visitor, dict[str, list[str]]]) -> None:
    root = visited[0].root
    assert [one for one in check(visited[0].kitchen).problems if one.severity == ERROR] == []
    assert list(root.parent.iterdir()) == [root]


@pytest.mark.parametrize("body", [b"", b"\xff\xfe", b"a=%zz&token=%ff", b"--x\r\n", b"token=" + b"\xf0\x9f" * 50])
@pytest.mark.parametrize(
    "kind",
    [
        "application/x-www-form-urlencoded",
        "multipart/form-data",
        "multipart/form-data; boundary=x",
        "application/json",
    ],
)
def test_a_broken_form_is_refused(small: Visitor, body: bytes, kind: str) -> None:
    answer = small.browser.post("/recipe/loin/start", content=body, headers={"origin": HOME, "content-type": kind})
    assert answer.status_code in (400, 403)


def test_other_methods_are_refused(small: Visitor) -> None:
    for method in ("PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "CONNECT", "PROPFIND"):
        assert small.browser.request(method, "/", headers={"origin": HOME}).status_code == 405
    assert small.browser.post("/", headers={"origin": HOME}).status_code in (403, 405)
