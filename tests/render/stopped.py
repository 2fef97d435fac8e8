"""Run by `test_packet`: stops the writing of a packet at each of its steps, as a power cut would.

    python -m tests.render.stopped FOLDER

For each step a child process begins a new packet over an old one and ends at that step without
any cleaning up. Prints a line of JSON for each: what then stood, and what the next run made of it.
"""

from __future__ import annotations

import hashlib
import json
import os
import sys
from pathlib import Path
from typing import Any

import docxtpl  # noqa: F401 - loaded once, before the forks
import typst  # noqa: F401

from spec.render.packet import PacketInfo, write_packet
from spec.render.press import Press  # noqa: F401
from tests.render.sample import small

STOPPED = 9
EXTRAS = {"findings/findings.json": b"[]\n"}


def tree(folder: Path) -> str:
    """One digest for all names and contents in a folder; empty when there is none."""
    if not folder.is_dir():
        return ""
    whole = hashlib.sha256()
    for path in sorted(folder.rglob("*")):
        whole.update(path.relative_to(folder).as_posix().encode() + b"\0")
        if path.is_file():
            whole.update(hashlib.sha256(path.read_bytes()).digest())
    return whole.hexdigest()


def write(out: Path, revision: str, stop_at: int = -1) -> dict[str, Any]:
    """Write a packet of small documents in a process of its own that may end at a step.

    The process that forks never sets a document itself: the typesetter's threads do not live on
    in a fork.
    """
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        steps: list[str] = []

        def step(words: str) -> None:
            steps.append(words)
            if len(steps) == stop_at:
                os._exit(STOPPED)

        pages = [small(f"page-{n}", f"trade-{n}")._replace(formats=("html",)) for n in range(12)]
        documents = [small("order", "electrical"), *pages]
        info = PacketInfo("Cellar", "26-031", revision, "2026-05-04")
        report = write_packet(documents, EXTRAS, out, info, step)
        os.write(writing, json.dumps({"steps": len(steps), "notes": report.notes}).encode())
        os._exit(0)
    os.close(writing)
    with os.fdopen(reading, "rb") as pipe:
        said = pipe.read()
    status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    return {"status": status, **json.loads(said or b"{}")}


def main(folder: Path) -> None:
    """All steps, one after another."""
    steps = write(folder / "new", "B")["steps"]
    new = tree(folder / "new")
    for stop_at in range(1, steps + 1):
        out = folder / f"at-{stop_at}" / "packet"
        write(out, "A")
        old = tree(out)
        stopped = write(out, "B", stop_at)
        aside = out.with_name(f".{out.name}.old-packet")
        standing = {old: "old", new: "new", "": "nothing"}.get(tree(out), "broken")
        beside = {old: "old", "": "nothing"}.get(tree(aside), "broken")
        following = write(out, "B")
        print(
            json.dumps(
                {
                    "step": stop_at,
                    "stopped": stopped["status"] == STOPPED,
                    "standing": standing,
                    "beside": beside,
                    "next": "new" if tree(out) == new else "broken",
                    "left": [p.name for p in out.parent.iterdir() if p != out],
                    "notes": following["notes"],
                }
            ),
            flush=True,
        )


if __name__ == "__main__":
    main(Path(sys.argv[1]))
