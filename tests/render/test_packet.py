"""The packet: whole at every instant, the same bytes everywhere, plain words when it cannot be."""

from __future__ import annotations

import errno
import hashlib
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import html5lib
import pytest

from spec.compose.blocks import Row, Table
from spec.pipeline import run
from spec.read import Unusable
from spec.render.names import safe_name
from spec.render.packet import PacketError, PacketInfo, PacketReport, write_packet
from spec.render.swap import WHAT
from spec.render.tables import table_csv
from tests.render.sample import document, small
from tests.render.stopped import tree

HERE = Path(__file__).resolve().parents[2]
INFO = PacketInfo("Cellar at Alder Lane", "26-031", "C", "2026-05-04")
EXTRAS = {"findings/findings.json": b"[]\n", "lead/boxes.csv": b"a\r\n"}


def light(name: str = "electrical", folder: str = "electrical"):  # type: ignore[no-untyped-def]
    """A document that is quick to set."""
    return small(name, folder)._replace(formats=("html",))


def write(out: Path, **changes: object) -> PacketReport:
    return write_packet([light()], EXTRAS, out, replace(INFO, **changes))  # type: ignore[arg-type]


def siblings(out: Path) -> list[str]:
    return sorted(path.name for path in out.parent.iterdir() if path != out)


def test_what_stands_in_a_packet(tmp_path: Path) -> None:
    out = tmp_path / "made" / "packet"
    steps: list[str] = []
    documents = [document("order", "electrical"), light("book", "client")]
    report = write_packet(documents, EXTRAS, out, INFO, steps.append)
    files = sorted(path.relative_to(out).as_posix() for path in out.rglob("*") if path.is_file())
    assert files == sorted(report.files) == [
        "client/book.html", "electrical/order.docx", "electrical/order.html",
        "electrical/order.pdf", "findings/findings.json", "index.html", "lead/boxes.csv",
        "packet.json",
    ]  # fmt: skip
    about = json.loads((out / "packet.json").read_text(encoding="utf-8"))
    assert about["what"] == "scantling packet"
    assert about["job"] == {"number": "26-031", "title": "Cellar at Alder Lane"}
    assert (about["revision"], about["day"]) == ("C", "2026-05-04")
    assert about["documents"][0]["fingerprint"] == "9f2c 11d0 7ab4 e83e"
    assert about["documents"][0]["held"] == list(document().head.held)
    for path, digest in about["files"].items():
        assert hashlib.sha256((out / path).read_bytes()).hexdigest() == digest
    assert set(about["files"]) | {"packet.json"} == set(files)
    assert "electrical/order.pdf" in steps
    assert report.missing == ("☃", "中", "村")
    assert any("U+2603 (snowman)" in note for note in report.notes)
    assert siblings(out) == []


def test_the_index_leads_to_every_file(tmp_path: Path) -> None:
    report = write(tmp_path / "p")
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    page = parser.parse((tmp_path / "p" / "index.html").read_bytes())
    links = {link.get("href") for link in page.iter("a")}
    assert links == set(report.files) - {"index.html", "packet.json"}


def test_a_new_packet_takes_the_place_of_the_old_one(tmp_path: Path) -> None:
    out = tmp_path / "p"
    write(out, revision="A")
    write_packet([light("other", "glazing")], {}, out, INFO)
    assert not (out / "electrical").exists()
    assert (out / "glazing" / "other.html").exists()
    assert siblings(out) == []


def test_what_people_did_in_a_packet_is_kept(tmp_path: Path) -> None:
    out = tmp_path / "p"
    write(out, revision="A")
    (out / "signed").mkdir()
    (out / "signed" / "scan.pdf").write_bytes(b"signed by hand")
    (out / "electrical" / "electrical.html").write_bytes(b"changed by hand")
    (out / "client-note").symlink_to("/nowhere")
    report = write(out, revision="B")
    assert (out / "signed" / "scan.pdf").read_bytes() == b"signed by hand"
    kept = out / "kept" / "A-2026-05-04" / "electrical" / "electrical.html"
    assert kept.read_bytes() == b"changed by hand"
    assert (out / "client-note").is_symlink()
    assert any("electrical/electrical.html was changed by hand" in note for note in report.notes)
    assert write(out, revision="B").notes == ()
    assert kept.exists()


def test_stopped_at_any_step_the_old_packet_is_whole_and_the_next_run_succeeds(
    tmp_path: Path,
) -> None:
    if not hasattr(os, "fork"):
        pytest.skip("this system cannot fork")
    run = subprocess.run(
        [sys.executable, "-m", "tests.render.stopped", str(tmp_path)],
        cwd=HERE, check=True, capture_output=True, text=True, timeout=300,
    )  # fmt: skip
    steps = [json.loads(line) for line in run.stdout.splitlines()]
    assert len(steps) >= 20
    assert all(step["stopped"] for step in steps)
    for step in steps:
        assert (step["standing"], step["beside"]) in {
            ("old", "nothing"),
            ("nothing", "old"),
            ("new", "old"),
            ("new", "nothing"),
        }, step
        assert step["next"] == "new", step
        assert step["left"] == [], step
    between = [step for step in steps if step["standing"] == "nothing"]
    assert between
    assert all("put back" in "".join(step["notes"]) for step in between)


@pytest.mark.parametrize("stop", range(1, 9))
def test_an_error_at_any_step_leaves_the_folder_as_it_was(tmp_path: Path, stop: int) -> None:
    out = tmp_path / "p"
    write(out, revision="A")
    before = tree(out)
    steps: list[str] = []

    def step(words: str) -> None:
        steps.append(words)
        if len(steps) == stop:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        write_packet([light()], EXTRAS, out, replace(INFO, revision="B"), step)
    if "the new packet is in place" not in steps:
        assert tree(out) == before
        assert siblings(out) == []
    write(out, revision="B")
    assert siblings(out) == []


def _environments() -> Iterator[dict[str, str]]:
    yield {"PYTHONHASHSEED": "1", "TZ": "Pacific/Auckland", "LC_ALL": "C"}
    yield {"PYTHONHASHSEED": "77", "TZ": "America/Los_Angeles", "LC_ALL": "C.UTF-8"}
    yield {"PYTHONHASHSEED": "random", "TZ": "", "LC_ALL": "de_DE.UTF-8", "SOURCE_DATE_EPOCH": "7"}


def test_the_same_documents_give_the_same_bytes_anywhere(tmp_path: Path) -> None:
    script = (
        "import sys; from pathlib import Path\n"
        "from spec.render.packet import PacketInfo, write_packet\n"
        "from tests.render.sample import document, small\n"
        "from tests.render.stopped import tree\n"
        "out = Path(sys.argv[1])\n"
        "write_packet([document(), small('b', 'client')], {'f/a.json': b'1'}, out,\n"
        "             PacketInfo('Größe', '1', 'A', '2026-05-04'))\n"
        "print(tree(out))\n"
    )
    digests = set()
    for number, settings in enumerate(_environments()):
        place = tmp_path / f"folder {number}"
        place.mkdir()
        run = subprocess.run(
            [sys.executable, "-c", script, str(place / "packet")],
            cwd=place, env={**os.environ, "PYTHONPATH": str(HERE), **settings},
            check=True, capture_output=True, text=True, timeout=120,
        )  # fmt: skip
        digests.add(run.stdout.strip())
    assert len(digests) == 1


def test_two_documents_of_one_name_both_stand(tmp_path: Path) -> None:
    out = tmp_path / "p"
    names = ["a/b", "A-b", "../../a b", "nul", "中"]
    report = write_packet(
        [light(name, "x/../y") for name in names],
        {"../evil.txt": b"", "packet.json": b""},
        out,
        INFO,
    )
    assert sorted(report.files) == sorted(
        ["x-.-y/a-b.html", "x-.-y/A-b-2.html", "x-.-y/a-b-3.html", "x-.-y/nul-.html",
         "x-.-y/untitled.html", "evil.txt", "packet-2.json", "index.html", "packet.json"]
    )  # fmt: skip
    assert siblings(out) == []


@pytest.mark.parametrize(
    "title",
    ["", ".", "..", "/", "a" * 300, "CON", "com1.pdf", "a\x00b", "Wände & Böden: <1>", "-rf", "a."],
)
def test_names_are_safe_everywhere(title: str) -> None:
    name = safe_name(title)
    assert 0 < len(name) <= 80
    assert not set(name) & set('/\\:*?"<>|\0 ')
    assert name[0] not in ".-"
    assert name[-1] != "."
    assert name.upper().partition(".")[0] not in {"CON", "COM1", "NUL"}


def refused(out: Path) -> PacketError:
    with pytest.raises(PacketError) as caught:
        write(out)
    assert caught.value.message
    assert caught.value.cure
    return caught.value


def test_a_file_in_the_way_is_refused(tmp_path: Path) -> None:
    out = tmp_path / "p"
    out.write_text("mine")
    assert "is a file" in refused(out).message
    assert "cannot be written" in refused(out / "inside").message
    assert out.read_text() == "mine"
    assert siblings(out) == []


def test_a_folder_of_other_things_is_refused(tmp_path: Path) -> None:
    out = tmp_path / "p"
    out.mkdir()
    (out / "packet.json").write_text('{"what": "something else"}')
    assert "no packet of this program" in refused(out).message
    assert [path.name for path in out.iterdir()] == ["packet.json"]
    assert siblings(out) == []


def test_a_half_done_swap_beside_other_things_loses_nothing(tmp_path: Path) -> None:
    out = tmp_path / "p"
    write(out)
    aside = out.with_name(".p.old-packet")
    out.rename(aside)
    out.mkdir()
    (out / "mine.txt").write_text("mine")
    refused(out)
    assert (aside / "packet.json").exists()


def test_an_empty_folder_and_a_link_are_taken(tmp_path: Path) -> None:
    out = tmp_path / "p"
    out.mkdir()
    write(out)
    link = tmp_path / "link"
    link.symlink_to(out)
    write(link, revision="D")
    assert link.is_symlink()
    assert json.loads((out / "packet.json").read_text())["revision"] == "D"


def test_the_root_of_a_disk_is_refused() -> None:
    assert "cannot be a packet's folder" in refused(Path("/")).message


def test_a_second_run_at_the_same_time_is_refused(tmp_path: Path) -> None:
    pytest.importorskip("fcntl")
    out = tmp_path / "p"
    seen: list[PacketError] = []

    def step(_: str) -> None:
        if not seen:
            seen.append(refused(out))

    write_packet([light()], EXTRAS, out, INFO, step)
    assert "Another run" in seen[0].message
    assert (out / "electrical" / "electrical.html").exists()


def test_a_full_disk_loses_nothing(tmp_path: Path) -> None:
    disk = tmp_path / "disk"
    disk.mkdir()
    size = ["-t", "tmpfs", "-o", "size=200k", "tmpfs"]
    mounted = subprocess.run(["mount", *size, str(disk)], capture_output=True, check=False)
    if mounted.returncode:
        pytest.skip("a small disk cannot be mounted here")
    try:
        out = disk / "p"
        out.mkdir()
        (out / "packet.json").write_text('{"what": "scantling packet", "files": {}}')
        (out / "order.txt").write_text("the old order")
        before = tree(out)
        assert "disk is full" in refused(out).message
        assert tree(out) == before
        assert siblings(out) == []
    finally:
        subprocess.run(["umount", str(disk)], check=True)


@pytest.mark.parametrize("what", ["parent", "packet"])
def test_a_read_only_folder_is_refused(what: str) -> None:
    if not hasattr(os, "fork") or os.geteuid() != 0:
        pytest.skip("only the administrator can become somebody else")
    parent = Path(tempfile.mkdtemp(prefix="packet-", dir="/tmp"))
    out = parent / "p"
    write(out)
    before = tree(out)
    parent.chmod(0o755 if what == "parent" else 0o777)
    out.chmod(0o755)
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.setgid(65534)
        os.setuid(65534)
        try:
            write(out)
            said = "written"
        except PacketError as error:
            said = error.message
        except BaseException as error:
            said = f"{type(error).__name__}: {error}"
        os.write(writing, said.encode())
        os._exit(0)
    os.waitpid(child, 0)
    assert "you may not write there" in os.read(reading, 4000).decode()
    os.close(reading)
    os.close(writing)
    assert tree(out) == before
    assert siblings(out) == []
    subprocess.run(["rm", "-r", str(parent)], check=True)


def test_any_other_refusal_of_the_system_is_plain(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_: int) -> None:
        raise OSError(errno.EIO, "Input/output error")

    monkeypatch.setattr(os, "fsync", refuse)
    assert "Input/output error" in refused(tmp_path / "p").message
    assert list(tmp_path.iterdir()) == []


def test_a_table_as_csv() -> None:
    table = Table(
        "Boxes", ("Mark", "What"), (Row(("E1", 'a "b", c\nd')), Row(("=1+1",)), Row(("-5 °C", "½")))
    )
    assert table_csv(table).decode("utf-8-sig") == (
        'Mark,What\r\nE1,"a ""b"", c\nd"\r\n\'=1+1,\r\n-5 °C,½\r\n'
    )


def test_checking_alone_loads_no_typesetter() -> None:
    run = subprocess.run(
        [sys.executable, "-c", "import sys, spec.render.packet; print(*sys.modules)"],
        cwd=HERE, check=True, capture_output=True, text=True,
    )  # fmt: skip
    assert not {"typst", "docx", "docxtpl", "jinja2", "lxml"} & set(run.stdout.split())


@pytest.mark.parametrize("files", ["null", "[1]", "[" * 100_000])
def test_a_damaged_sheet_is_no_packet(tmp_path: Path, files: str) -> None:
    out = tmp_path / "p"
    write(out)
    (out / "packet.json").write_text(f'{{"what": "{WHAT}", "files": {files}')
    assert "no packet of this program" in refused(out).message
    (out / "packet.json").write_text(f'{{"what": "{WHAT}", "files": null}}')
    assert "no packet of this program" in refused(out).message


def test_a_packet_set_aside_is_put_back_even_for_a_job_of_no_use(tmp_path: Path) -> None:
    out = tmp_path / "p"
    write(out)
    out.rename(out.with_name(".p.old-packet"))
    job = tmp_path / "job.yaml"
    job.write_text("- a list\n", encoding="utf-8")
    with pytest.raises(Unusable):
        run(job, out)
    assert (out / "packet.json").exists()
