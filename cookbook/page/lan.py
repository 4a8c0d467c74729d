"""An address as a picture that a phone reads."""

from __future__ import annotations

import io


def qr(address: str) -> str:
    """The address as a QR code, one `<svg>` element in the text's own colour on white."""
    import segno

    made = io.BytesIO()
    segno.make(address, error="m", micro=False).save(
        made, kind="svg", xmldecl=False, svgns=True, scale=1, border=4, dark="#000", light="#fff", omitsize=True,
        title="QR code of the address below", svgclass="qr", lineclass=None,
    )  # fmt: skip
    return made.getvalue().decode()


def qr_text(address: str) -> str:
    """The address as a QR code for a terminal."""
    import segno

    made = io.StringIO()
    segno.make(address, error="l", micro=False).terminal(made, compact=True)
    return made.getvalue()
