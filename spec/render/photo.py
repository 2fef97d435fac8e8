"""A photograph at its size on paper: upright, made small, in one form for all formats."""

from __future__ import annotations

import base64
import struct
import tempfile
from pathlib import Path

from spec.draw.scene import Label, Polygon, Scene
from spec.render.pdf import TypesettingError, set_type
from spec.render.svg import Drawing, draw

HIGHEST = 110.0
"""Room in height on paper, in millimeters."""
PPI = 150
_SOURCE = b"""
#set page(width: auto, height: auto, margin: 0pt)
#let photograph = read("photograph", encoding: none)
#context {
  let whole = measure(image(photograph))
  let share = calc.min(
    float(sys.inputs.widest) * 1mm / whole.width, float(sys.inputs.highest) * 1mm / whole.height,
  )
  image(photograph, width: whole.width * share)
}
"""


def photograph(content: bytes, widest: float) -> Drawing | None:
    """The photograph as a drawing of at most `widest` [mm]; none where it is no JPEG or PNG.

    It is turned as its camera noted (Exif) and holds no more points than the paper shows, so a
    folder of large photographs does not make a large packet.
    """
    if not content.startswith((b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff")):
        return None
    with tempfile.TemporaryDirectory(prefix="scantling-") as folder:
        (Path(folder) / "photograph").write_bytes(content)
        inputs = {"widest": str(widest), "highest": str(HIGHEST)}
        try:
            png = set_type(_SOURCE, inputs, root=folder, format="png", ppi=PPI)
        except TypesettingError:
            return None
    across, up = struct.unpack(">II", png[16:24])
    wide, high = round(across / PPI * 25.4, 2), round(up / PPI * 25.4, 2)
    inline = base64.b64encode(png).decode("ascii")
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" '
        f'viewBox="0 0 {wide} {high}"><image width="{wide}" height="{high}" '
        f'href="data:image/png;base64,{inline}"/></svg>\n'
    )
    return Drawing(svg, wide, high)


def missing_photograph(widest: float) -> Drawing:
    """What stands in the place of a photograph that cannot be shown."""
    high = widest * 0.4
    frame = Polygon(((0, 0), (widest, 0), (widest, high), (0, high)), "hidden", "light")
    words = Label((widest / 2, high / 2), "This photograph\ncannot be shown.")
    return draw(Scene((frame, words)), widest)
