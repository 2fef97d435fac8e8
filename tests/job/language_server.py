"""A YAML editor's language server, driven as an editor does: JSON-RPC over its standard streams.

Language Server Protocol 3.17; the server is the npm package yaml-language-server.
"""

from __future__ import annotations

import json
import subprocess
from collections.abc import Mapping
from itertools import count
from pathlib import Path
from types import TracebackType
from typing import Any


class LanguageServer:
    """One running server, told of schemas for files of certain names."""

    def __init__(self, program: Path, schemas: Mapping[Path, str]) -> None:
        self._numbers = count(1)
        self._diagnostics: dict[str, list[Any]] = {}
        self._settings = {
            "yaml": {
                "schemas": {path.as_uri(): names for path, names in schemas.items()},
                "schemaStore": {"enable": False},
                "validate": True,
                "hover": True,
                "completion": True,
            }
        }
        self._process = subprocess.Popen(
            ["node", str(program), "--stdio"], stdin=subprocess.PIPE, stdout=subprocess.PIPE
        )

    def __enter__(self) -> LanguageServer:
        self.ask(
            "initialize",
            {
                "processId": None,
                "rootUri": None,
                "capabilities": {
                    "workspace": {"configuration": True},
                    "textDocument": {"hover": {"contentFormat": ["plaintext"]}},
                },
            },
        )
        self.tell("initialized", {})
        self.tell("workspace/didChangeConfiguration", {"settings": self._settings})
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._process.kill()
        self._process.communicate()

    def open(self, path: Path, text: str) -> list[Any]:
        """Open a file with this text; what the server finds wrong with it."""
        uri = path.as_uri()
        about = {"uri": uri, "languageId": "yaml", "version": 1, "text": text}
        self._diagnostics.pop(uri, None)
        self.tell("textDocument/didOpen", {"textDocument": about})
        while uri not in self._diagnostics:
            self._take(self._read())
        return self._diagnostics[uri]

    def at(self, method: str, path: Path, line: int, column: int) -> Any:
        """Ask for a hover or a completion at a position; both count from 0."""
        where = {"line": line, "character": column}
        return self.ask(method, {"textDocument": {"uri": path.as_uri()}, "position": where})

    def ask(self, method: str, parameters: Any) -> Any:
        """The answer to a request."""
        number = next(self._numbers)
        self._send({"id": number, "method": method, "params": parameters})
        while True:
            message = self._read()
            if message.get("id") == number and "method" not in message:
                assert "error" not in message, message["error"]
                return message["result"]
            self._take(message)

    def tell(self, method: str, parameters: Any) -> None:
        """Send what needs no answer."""
        self._send({"method": method, "params": parameters})

    def _take(self, message: Any) -> None:
        """Answer what the server asks, keep what it finds wrong."""
        match message.get("method"):
            case "textDocument/publishDiagnostics":
                found = message["params"]
                self._diagnostics[found["uri"]] = found["diagnostics"]
            case "workspace/configuration":
                sections = [item.get("section", "") for item in message["params"]["items"]]
                answer = [self._settings.get(section, {}) for section in sections]
                self._send({"id": message["id"], "result": answer})
            case str() if "id" in message:
                self._send({"id": message["id"], "result": None})

    def _send(self, message: Any) -> None:
        body = json.dumps({"jsonrpc": "2.0", **message}).encode()
        assert self._process.stdin is not None
        self._process.stdin.write(b"Content-Length: %d\r\n\r\n" % len(body) + body)
        self._process.stdin.flush()

    def _read(self) -> Any:
        assert self._process.stdout is not None
        length = 0
        while line := self._process.stdout.readline().strip():
            name, _, value = line.partition(b":")
            if name.lower() == b"content-length":
                length = int(value)
        assert length, "the language server has stopped"
        return json.loads(self._process.stdout.read(length))
