"""The manual written to a folder: rules, decisions and figures, made from the code."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from spec import __version__
from spec.compose.manual.pages import manual

if TYPE_CHECKING:
    from spec.render.packet import PacketReport


def write_manual(out: Path, progress: Callable[[str], None] | None = None) -> PacketReport:
    """Write every page; `index.html` is the first.

    An earlier manual is replaced, the packet of a job is not. Raises
    `spec.render.packet.PacketError`.
    """
    from spec.render.packet import PacketInfo, write_packet  # noqa: PLC0415

    first, pages = manual()
    _no_packet_of_a_job(out, first.title)
    about = PacketInfo(first.title, "", __version__, "")
    return write_packet(pages, {}, out, about, progress, first)


def _no_packet_of_a_job(out: Path, title: str) -> None:
    from spec.render.swap import ABOUT, PacketError, is_packet  # noqa: PLC0415

    if is_packet(out):
        of = json.loads((out / ABOUT).read_text(encoding="utf-8")).get("job", {}).get("title", "")
        if of != title:
            raise PacketError(
                f"The folder {out} holds the packet of a job ({of}).",
                "Name another folder for the manual; nothing in that one was touched.",
            )
