"""Requests to a server on this machine, byte by byte."""

import socket

from sitegen.app.loopback import HOST, LoopbackServer


def sent(server: LoopbackServer, request: bytes, *, ended: bool = False) -> bytes:
    """All that comes back for these bytes; ``ended`` says that no more will be sent."""
    with socket.create_connection((HOST, server.port), timeout=30) as line:
        line.sendall(request)
        if ended:
            line.shutdown(socket.SHUT_WR)
        found = b""
        while part := line.recv(65536):
            found += part
    return found


def get(
    server: LoopbackServer, path: str, host: str = "", method: str = "GET", part: str = ""
) -> tuple[int, bytes, bytes]:
    """Status, head and body of the answer; ``part`` is a range of bytes to ask for."""
    host = host or f"{HOST}:{server.port}"
    asked = f"{method} {path} HTTP/1.1\r\nHost: {host}\r\n" + (f"Range: bytes={part}\r\n" if part else "")
    head, _, body = sent(server, f"{asked}\r\n".encode()).partition(b"\r\n\r\n")
    return int(head.split()[1]), head, body
