"""An Open Packaging container (ECMA-376 part 2) whose bytes depend on nothing but its contents."""

from __future__ import annotations

import zipfile
from collections.abc import Mapping
from io import BytesIO
from typing import Any
from xml.sax.saxutils import quoteattr

TYPES = "[Content_Types].xml"
_NAMESPACE = "http://schemas.openxmlformats.org/package/2006/content-types"
_BY_EXTENSION = frozenset({"rels", "png", "jpeg", "jpg", "odttf"})


def packed(package: Any, written: Mapping[str, bytes]) -> bytes:
    """A python-docx package as bytes, in a fixed order and with a fixed time in each entry.

    `written` holds the parts, by name, that stand in place of the package's own.

    Entries are stored, not deflated: deflate gives other bytes with another zlib.
    """
    parts = {"_rels/.rels": package.rels.xml}
    types: dict[str, str] = {}
    for part in package.iter_parts():
        part.before_marshal()
        name = part.partname.membername
        given = written.get(name)
        parts[name] = part.blob if given is None else given
        types[name] = part.content_type
        if len(part.rels):
            parts[part.partname.rels_uri.membername] = part.rels.xml
    made = BytesIO()
    with zipfile.ZipFile(made, "w") as archive:
        for name, content in ((TYPES, _types(types)), *sorted(parts.items())):
            entry = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
            entry.create_system = 3
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, content, zipfile.ZIP_STORED)
    return made.getvalue()


def _types(types: dict[str, str]) -> bytes:
    """What kind each part is of: pictures and fonts by their extension, the others by name."""
    defaults = {
        "rels": "application/vnd.openxmlformats-package.relationships+xml",
        "xml": "application/xml",
    }
    overrides = {}
    for name, kind in types.items():
        extension = name.rpartition(".")[2]
        if extension in _BY_EXTENSION:
            defaults[extension] = kind
        else:
            overrides[f"/{name}"] = kind
    lines = [
        f"<Default Extension={quoteattr(extension)} ContentType={quoteattr(kind)}/>"
        for extension, kind in sorted(defaults.items())
    ]
    lines += [
        f"<Override PartName={quoteattr(name)} ContentType={quoteattr(kind)}/>"
        for name, kind in sorted(overrides.items())
    ]
    return (
        '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
        f'<Types xmlns="{_NAMESPACE}">{"".join(lines)}</Types>'
    ).encode()
