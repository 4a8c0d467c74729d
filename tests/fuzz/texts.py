"""What may lie in a file that should be a recipe or an entry of the journal."""

from __future__ import annotations

from tests.conftest import PASTE

LAUGHS = "a: &a [x, x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{two}: &{two} [{', '.join([f'*{one}'] * 10)}]\n" for one, two in zip("abcdefghi", "bcdefghij", strict=True)
)
"""Nine rows of ten names each: a billion, were they followed."""

TEXTS: dict[str, bytes] = {
    "laughs": LAUGHS.encode(),
    "anchor-in-itself": b"kind: rub\ntitle: Ring\ningredients: &a\n  - *a\n",
    "merge-key": b"base: &b {kind: rub}\n<<: *b\ntitle: Merged\n",
    "deep-flow": b"kind: " + b"[" * 20_000,
    "deep-closed": b"kind: rub\nsteps: " + b"[" * 3_000 + b"]" * 3_000 + b"\n",
    "deep-map": b"kind: rub\nsteps: " + b"{a: " * 3_000 + b"}" * 3_000 + b"\n",
    "deep-block": b"".join(b" " * depth + b"a:\n" for depth in range(400)),
    "dashes": b"- " * 5_000,
    "question-marks": b"? " * 5_000,
    "windows-lines": PASTE.replace("\n", "\r\n").encode(),
    "old-mac-lines": PASTE.replace("\n", "\r").encode(),
    "mixed-lines": PASTE.replace("\n", "\r\n", 4).replace("\n", "\r", 1).encode(),
    "bom": b"\xef\xbb\xbf" + PASTE.encode(),
    "bom-twice": b"\xef\xbb\xbf" * 2 + PASTE.encode(),
    "utf-16-le": b"\xff\xfe" + PASTE.encode("utf-16-le"),
    "utf-16-be": b"\xfe\xff" + PASTE.encode("utf-16-be"),
    "utf-32": PASTE.encode("utf-32"),
    "windows-1252": PASTE.replace("Walnut", "Pâté").encode("cp1252"),
    "half-a-letter": PASTE.encode() + "é".encode()[:1],
    "surrogate": b"kind: rub\ntitle: \xed\xa0\x80\n",
    "overlong": b"kind: rub\ntitle: \xc0\xaf\n",
    "nul": PASTE.encode().replace(b"80 g", b"80\0g"),
    "only-nul": b"\0" * 4096,
    "bells": b"kind: rub\ntitle: \x07\x1b[31m red \x1b]0;owned\x07\n",
    "right-to-left": "kind: rub\ntitle: a\u202eb\u2066c\nsteps: [\u200f]\n".encode(),
    "line-separators": "kind: rub\u2028title: x\u2029steps: []\u0085".encode(),
    "empty": b"",
    "only-comments": b"# nothing\n# here\n",
    "only-a-word": b"rub",
    "a-list": b"- kind: rub\n- title: x\n",
    "two-documents": b"kind: rub\n---\nkind: paste\n",
    "directive": b"%YAML 9.9\n---\nkind: rub\n",
    "tags": b"!!python/object/apply:os.system ['true']\n",
    "binary-tag": b"kind: !!binary aGVsbG8=\ntitle: !!timestamp 2001-01-01\n",
    "tabs": PASTE.replace("  ", "\t").encode(),
    "same-key-twice": b"kind: rub\nkind: paste\ntitle: a\ntitle: b\n",
    "key-is-a-list": b"[a, b]: 1\n{c: d}: 2\nkind: rub\n",
    "open-quote": b'kind: rub\ntitle: "never closed\nsteps: []\n',
    "huge-number": b"kind: rub\ntitle: x\nserves: " + b"9" * 5_000 + b"\nrevision: -1e999\n",
    "not-a-number": b"kind: cook\ntitle: x\nserves: .nan\nrevision: .inf\n",
    "one-long-line": b"kind: rub\ntitle: " + b"x" * 900_000 + b"\n",
    "many-lines": b"kind: rub\ntitle: x\nsteps:\n" + b"  - a\n" * 10_000,
    "many-keys": b"".join(b"k%d: 1\n" % number for number in range(2_000)),
    "wrong-kinds": b"kind: [rub]\ntitle: {a: b}\ningredients: word\nsteps: {}\nmade_for: []\ncoats: 7\npit: rest\n",
    "empty-everything": b"kind:\ntitle:\ningredients:\nsteps:\nmade_for:\ncoats:\npit:\nrest:\nlinks:\n",
    "uses-itself": b"kind: cook\ntitle: Ring\ncut: pork loin, boneless\ncoats: [{recipe: uses-itself}]\n",
    "uses-a-path": b"kind: cook\ntitle: Out\ncut: pork loin, boneless\ncoats: [{recipe: ../../../etc/passwd}]\n",
    "picture-outside": b"kind: rub\ntitle: P\nphotos: [../../../../etc/passwd]\nlinks: ['javascript:alert(1)']\n",
    "script": b"kind: rub\ntitle: <script>alert(1)</script>\nsteps: ['{{ 7 * 7 }} {% raw %}']\n",
    "picture": b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR" + b"\xff" * 100,
    "archive": b"PK\x03\x04" + b"\0" * 26,
    "json": b'{"kind": "rub", "title": "J", "ingredients": [{"item": "salt", "amount": "5 g"}]}',
}
"""What may lie in a file that should be a recipe or an entry."""
