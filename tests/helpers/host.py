"""A host of a built site as most are: silent here, and texts come compressed to browsers that take them so."""

import gzip
import http.server
from pathlib import Path

TEXTS = frozenset({".html", ".css", ".js", ".svg", ".json", ".xml", ".txt"})


class Host(http.server.SimpleHTTPRequestHandler):
    """Serves a folder."""

    def do_GET(self) -> None:
        """Texts compressed, all else as it is."""
        path = Path(self.translate_path(self.path))
        path = path / "index.html" if path.is_dir() and self.path.endswith("/") else path
        if path.suffix not in TEXTS or not path.is_file() or "gzip" not in self.headers.get("Accept-Encoding", ""):
            super().do_GET()
            return
        body = gzip.compress(path.read_bytes(), 6)
        self.send_response(200)
        self.send_header("Content-Type", self.guess_type(str(path)))
        self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""
