"""QR codes (ISO/IEC 18004): as SVG for printed links and labels, as text for a terminal."""

from __future__ import annotations

from io import StringIO

import segno


def qr_svg(text: str) -> str:
    """Return a QR code as an SVG element that scales with its box.

    Error correction M: a label in a workshop gets scratched.
    """
    code = segno.make(text, error="m", micro=False)
    svg: str = code.svg_inline(
        border=4, omitsize=True, svgclass="qr", lineclass=None, dark="#000", light="#fff"
    )
    return svg


def qr_text(text: str) -> str:
    """Return a QR code drawn with half blocks, two modules a character, light on a dark ground."""
    drawn = StringIO()
    segno.make(text, error="m", micro=False).terminal(out=drawn, border=4, compact=True)
    return drawn.getvalue().rstrip("\n")
