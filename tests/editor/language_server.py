"""A real YAML language server from npm, spoken to as an editor speaks to it.

Messages are those of the Language Server Protocol 3.17 ("Base Protocol", a header with the
length, then JSON-RPC 2.0) over standard input and output.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import tempfile
import threading
from pathlib import Path
from typing import Any

PACKAGE = "yaml-language-server@2.0.0"
MOST_SECONDS = 120
_MAIN = "node_modules/yaml-language-server/bin/yaml-language-server"


def install() -> Path | None:
    """Give the server's program, installed once into the user's cache folder; None where that cannot be done."""
    node, npm = shutil.which("node"), shutil.which("npm")
    if node is None or npm is None:
        return None
    folder = Path.home() / ".cache" / "cycle-handbook-tests" / PACKAGE
    if not (folder / _MAIN).is_file():
        folder.parent.mkdir(parents=True, exist_ok=True)
        # Put in its place whole: tests that run side by side may install it at once.
        making = Path(tempfile.mkdtemp(dir=folder.parent))
        (making / "package.json").write_text('{"private": true}\n')
        command = [npm, "install", "--no-audit", "--no-fund", "--ignore-scripts", "--silent"]
        try:
            subprocess.run([*command, PACKAGE], cwd=making, check=True, timeout=MOST_SECONDS)
        except (OSError, subprocess.SubprocessError):
            return None
        try:
            making.rename(folder)
        except OSError:  # another one was quicker
            shutil.rmtree(making)
    return folder / _MAIN


class Editor:
    """One editor with its server, which is ended by `close`."""

    def __init__(self, program: Path, folder: Path) -> None:
        environment = {**os.environ, "NO_PROXY": "*"}
        self._server = subprocess.Popen(
            ["node", str(program), "--stdio"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=environment,
        )
        self._watch = threading.Timer(MOST_SECONDS, self._server.kill)
        self._watch.start()
        self._number = self._opened = 0
        self._found: dict[str, list[dict[str, Any]]] = {}
        self.folder = folder
        capabilities = {
            "textDocument": {
                "completion": {"completionItem": {"snippetSupport": False}},
                "hover": {"contentFormat": ["markdown"]},
                "publishDiagnostics": {},
            }
        }
        self._ask("initialize", {"processId": None, "rootUri": folder.as_uri(), "capabilities": capabilities})  # fmt: skip
        self._tell("initialized", {})
        settings = {"validate": True, "hover": True, "completion": True, "schemaStore": {"enable": False}}  # fmt: skip
        self._settings = {"yaml": settings}
        self._tell("workspace/didChangeConfiguration", {"settings": self._settings})

    def close(self) -> None:
        self._watch.cancel()
        self._server.kill()
        self._server.wait()

    def open(self, name: str, text: str) -> str:
        self._opened += 1  # each is a document of its own, in the same folder
        uri = (self.folder / name).with_name(f"opened-{self._opened}.yaml").as_uri()
        document = {"uri": uri, "languageId": "yaml", "version": 1, "text": text}
        self._tell("textDocument/didOpen", {"textDocument": document})
        return uri

    def errors(self, uri: str) -> list[dict[str, Any]]:
        while uri not in self._found:
            self._take(self._read())
        return self._found[uri]

    def completions(self, uri: str, line: int, column: int) -> set[str]:
        found = self._ask("textDocument/completion", _at(uri, line, column))
        items = found["items"] if isinstance(found, dict) else found or []
        return {item["label"] for item in items}

    def hover(self, uri: str, line: int, column: int) -> str:
        found = self._ask("textDocument/hover", _at(uri, line, column))
        return str(found["contents"]["value"]) if found else ""

    def _ask(self, method: str, params: object) -> Any:
        self._number += 1
        number = self._number
        self._write({"id": number, "method": method, "params": params})
        while True:
            message = self._read()
            if message.get("id") == number and "method" not in message:
                assert "error" not in message, message
                return message["result"]
            self._take(message)

    def _tell(self, method: str, params: object) -> None:
        self._write({"method": method, "params": params})

    def _take(self, message: dict[str, Any]) -> None:
        """Note what the server found, and answer what it asks."""
        if message.get("method") == "textDocument/publishDiagnostics":
            self._found[message["params"]["uri"]] = message["params"]["diagnostics"]
        elif message.get("method") == "workspace/configuration":
            asked = message["params"]["items"]
            answer = [self._settings.get(one.get("section"), {}) for one in asked]
            self._write({"id": message["id"], "result": answer})
        elif "id" in message and "method" in message:
            self._write({"id": message["id"], "result": None})

    def _write(self, message: dict[str, Any]) -> None:
        body = json.dumps({"jsonrpc": "2.0", **message}).encode()
        assert self._server.stdin
        self._server.stdin.write(b"Content-Length: %d\r\n\r\n" % len(body) + body)
        self._server.stdin.flush()

    def _read(self) -> dict[str, Any]:
        assert self._server.stdout
        length = 0
        while line := self._server.stdout.readline().strip():
            name, _, value = line.partition(b":")
            length = int(value) if name.lower() == b"content-length" else length
        assert length, "the server has ended"
        message: dict[str, Any] = json.loads(self._server.stdout.read(length))
        return message


def _at(uri: str, line: int, column: int) -> dict[str, object]:
    return {"textDocument": {"uri": uri}, "position": {"line": line, "character": column}}
