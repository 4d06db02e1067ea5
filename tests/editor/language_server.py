"""A language server of editors, spoken to as an editor does: over its standard input and output."""

from __future__ import annotations

import json
import queue
import subprocess
import threading
from collections.abc import Callable, Mapping
from pathlib import Path
from types import TracebackType
from typing import Any

PATIENCE = 120.0  # s, for one answer


class LanguageServer:
    """One server; used as a context, it ends with it."""

    def __init__(self, command: list[str], settings: Mapping[str, Any]) -> None:
        self._process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
        )
        self._settings = settings
        self._number = 0
        self._answers: dict[int, Any] = {}
        self._marked: dict[str, list[dict[str, Any]]] = {}
        self._messages: queue.Queue[dict[str, Any]] = queue.Queue()
        threading.Thread(target=self._read, daemon=True).start()
        formats = {"contentFormat": ["markdown"]}, {"completionItem": {"documentationFormat": ["plaintext"]}}
        able = {
            "textDocument": {"hover": formats[0], "completion": formats[1]},
            "workspace": {"configuration": True},
        }
        self._ask("initialize", {"processId": None, "rootUri": None, "capabilities": able})
        self._send({"method": "initialized", "params": {}})

    def __enter__(self) -> LanguageServer:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._process.kill()
        self._process.communicate()

    def opened(self, uri: str, text: str) -> list[tuple[int, str]]:
        """What the server marks in a text: line from 1, and message."""
        document = {"uri": uri, "languageId": "yaml", "version": 1, "text": text}
        self._send({"method": "textDocument/didOpen", "params": {"textDocument": document}})
        self._wait(lambda: uri in self._marked)
        return [(one["range"]["start"]["line"] + 1, one["message"]) for one in self._marked[uri]]

    def hover(self, uri: str, line: int, column: int) -> str:
        """What is shown over a place, counted from 1."""
        found = self._ask("textDocument/hover", self._place(uri, line, column))
        return "" if found is None else str(found["contents"]["value"])

    def completions(self, uri: str, line: int, column: int) -> dict[str, str]:
        """What may be written at a place, counted from 1, with what is said of it."""
        found = self._ask("textDocument/completion", self._place(uri, line, column))
        items = found["items"] if isinstance(found, dict) else found
        return {one["label"]: str(one.get("documentation") or "") for one in items}

    @staticmethod
    def _place(uri: str, line: int, column: int) -> dict[str, Any]:
        return {"textDocument": {"uri": uri}, "position": {"line": line - 1, "character": column - 1}}

    def _ask(self, method: str, params: object) -> Any:
        self._number += 1
        number = self._number
        self._send({"id": number, "method": method, "params": params})
        self._wait(lambda: number in self._answers)
        return self._answers.pop(number)

    def _send(self, message: Mapping[str, Any]) -> None:
        data = json.dumps({"jsonrpc": "2.0", **message}).encode()
        assert self._process.stdin is not None
        self._process.stdin.write(b"Content-Length: %d\r\n\r\n" % len(data) + data)
        self._process.stdin.flush()

    def _read(self) -> None:
        out = self._process.stdout
        assert out is not None
        while head := out.readline():
            length = int(head.split(b":")[1]) if head.lower().startswith(b"content-length") else 0
            while out.readline().strip():
                pass
            self._messages.put(json.loads(out.read(length)))

    def _wait(self, until: Callable[[], bool]) -> None:
        while not until():
            message = self._messages.get(timeout=PATIENCE)
            method, number = message.get("method"), message.get("id")
            if method == "textDocument/publishDiagnostics":
                self._marked[message["params"]["uri"]] = message["params"]["diagnostics"]
            elif method == "workspace/configuration":
                asked = (one["section"] for one in message["params"]["items"])
                self._send({"id": number, "result": [self._settings.get(section, {}) for section in asked]})
            elif method is not None and number is not None:
                self._send({"id": number, "result": None})
            elif number is not None:
                self._answers[number] = message.get("result")


def server(folder: Path, schemas: Mapping[str, list[str]], node: str) -> LanguageServer:
    """The server of YAML files, with a schema for the files of each pattern.

    Args:
        folder: where it is installed.
        schemas: address of a schema to the patterns of the files that it is for.
        node: what runs it.
    """
    program = folder / "node_modules" / "yaml-language-server" / "bin" / "yaml-language-server"
    own = {"schemas": schemas, "validate": True, "hover": True, "completion": True}
    settings = {"yaml": {**own, "schemaStore": {"enable": False}}}
    return LanguageServer([node, str(program), "--stdio"], settings)
