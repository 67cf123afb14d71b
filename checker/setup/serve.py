"""Serves a folder on loopback, as a plain static host would: ``serve.py FOLDER PORT``. ``serve.py --free PORT`` only asks
whether the port is free, so that a build need not end in "it is taken"."""

from __future__ import annotations

import errno
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any, ClassVar

LOOPBACK = "127.0.0.1"


class StaticFiles(SimpleHTTPRequestHandler):
    """Files with the types that browsers insist on, and always asked for again, so that a rebuilt site is seen."""

    protocol_version = "HTTP/1.1"
    # Not left to the system's table, which may not know them.
    extensions_map: ClassVar = {
        **SimpleHTTPRequestHandler.extensions_map,
        ".mjs": "text/javascript",
        ".wasm": "application/wasm",
        ".svg": "image/svg+xml",
        ".yaml": "text/plain; charset=utf-8",
    }

    def end_headers(self) -> None:
        self.send_header("Cache-Control", "no-cache")
        super().end_headers()

    def log_message(self, format: str, *args: Any) -> None:
        """Say nothing: the terminal is for the address."""


class Server(ThreadingHTTPServer):
    daemon_threads = True

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A browser that hangs up early is no error."""
        if not isinstance(sys.exc_info()[1], ConnectionError):
            super().handle_error(request, client_address)


def server(folder: Path, port: int = 0, files: type[StaticFiles] = StaticFiles) -> Server:
    """A server of ``folder`` on loopback; port 0 takes any that is free."""
    return Server((LOOPBACK, port), partial(files, directory=str(folder)))


@contextmanager
def serving(folder: Path, files: type[StaticFiles] = StaticFiles) -> Iterator[str]:
    """The address of a folder, for as long as it is served."""
    listening = server(folder, files=files)
    threading.Thread(target=listening.serve_forever, daemon=True).start()
    try:
        yield f"http://{LOOPBACK}:{listening.server_port}/"
    finally:
        listening.shutdown()
        listening.server_close()


def main(folder: str, port: str) -> int:
    try:
        number = int(port)
        listening = server(Path("." if folder == "--free" else folder), number)
    except (ValueError, OverflowError):
        return complain(f"{port} is not a port: a number from 1 to 65535 is.")
    except OSError as error:
        if error.errno == errno.EADDRINUSE:
            return complain(f"Port {port} is taken by another program. Choose another one: make serve PORT={number + 1}")
        return complain(f"Port {port} cannot be used: {error.strerror}.")
    with listening:
        if folder == "--free":
            return 0
        print(f"Boardwright is at http://{LOOPBACK}:{number}/   (Ctrl+C stops it)", flush=True)
        try:
            listening.serve_forever()
        except KeyboardInterrupt:
            print()
    return 0


def complain(words: str) -> int:
    print(words, file=sys.stderr)
    return 1


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:3]))
