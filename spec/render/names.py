"""File names that every file system takes, made from titles."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

LONGEST = 80
_RESERVED = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9])(\..*)?", re.IGNORECASE)


def safe_name(title: str) -> str:
    """A name of ASCII letters, digits, dots, dashes and underscores, reserved nowhere.

    >>> safe_name("Wall W1/W2: “Größe”"), safe_name("../../etc"), safe_name("NUL.txt")
    ('Wall-W1-W2-Groe', 'etc', 'NUL-.txt')
    >>> safe_name("中村")
    'untitled'
    """
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode("ascii")
    name = re.sub(r"-{2,}", "-", re.sub(r"[^A-Za-z0-9._-]", "-", plain))
    name = re.sub(r"\.{2,}", ".", name).strip("-. ")
    if len(name) > LONGEST:
        stem, dot, end = name.rpartition(".")
        short = f"{stem[: LONGEST - len(end) - 1]}.{end}" if dot and len(end) < 10 else name
        name = short[:LONGEST].strip("-. ")
    if not name:
        return "untitled"
    reserved = _RESERVED.fullmatch(name)
    return f"{reserved[1]}-{reserved[2] or ''}" if reserved else name


def safe_path(path: str) -> str:
    """A relative path of safe names, with slashes; what would lead out of the folder is left out.

    >>> safe_path("findings/../a b.json"), safe_path("/abs")
    ('findings/a-b.json', 'abs')
    """
    parts = [part for part in path.replace("\\", "/").split("/") if part.strip(". ")]
    return "/".join(safe_name(part) for part in parts) or "untitled"


def distinct(paths: Iterable[str], taken: Iterable[str] = ()) -> list[str]:
    """The paths in order, each numbered that would meet an earlier one on any file system.

    >>> distinct(["a/x.csv", "A/X.csv"], taken=["a/x.CSV"])
    ['a/x-2.csv', 'A/X-3.csv']
    """
    met = {path.casefold() for path in taken}
    made = []
    for path in paths:
        folder, slash, name = path.rpartition("/")
        stem, dot, end = name.rpartition(".") if "." in name else (name, "", "")
        free, number = path, 1
        while free.casefold() in met:
            number += 1
            free = f"{folder}{slash}{stem}-{number}{dot}{end}"
        met.add(free.casefold())
        made.append(free)
    return made
