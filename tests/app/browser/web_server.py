"""Debian's nginx in front of the dashboard, set up as docs/deploy/nginx.conf says."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tests.app.browser.servers import free_port

ROOT = Path(__file__).resolve().parents[3]
CONFIGURATION = ROOT / "docs" / "deploy" / "nginx.conf"


@contextmanager
def web_server(folder: Path, port: int, behind: int) -> Iterator[str]:
    """https://localhost:port/roundelay, passed on to the port behind. Not run without nginx."""
    program = shutil.which("nginx") or shutil.which("nginx", path="/usr/sbin")
    if program is None:
        (pytest.fail if os.environ.get("CI") else pytest.skip)("no nginx on this machine")
    _certificate(folder)
    (folder / "nginx.conf").write_text(_whole(folder, port, behind), "utf-8")
    child = subprocess.Popen([program, "-c", str(folder / "nginx.conf"), "-p", str(folder)])
    try:
        _wait(port, child)
        yield f"https://localhost:{port}/roundelay"
    finally:
        child.terminate()
        child.wait(timeout=20)


def _certificate(folder: Path) -> None:
    command = [
        "openssl", "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1",
        "-nodes", "-days", "2", "-subj", "/CN=localhost", "-addext", "subjectAltName=DNS:localhost",
        "-keyout", str(folder / "key.pem"), "-out", str(folder / "certificate.pem"),
    ]  # fmt: skip
    subprocess.run(command, check=True, capture_output=True)


def _whole(folder: Path, port: int, behind: int) -> str:
    """The documented servers with other ports and places, inside what nginx needs around them."""
    swaps = {
        "listen 443 ssl;": f"listen 127.0.0.1:{port} ssl;",
        "listen 80;": f"listen 127.0.0.1:{free_port()};",
        "server_name roundelay.example.org;": "server_name localhost;",
        "http://127.0.0.1:8501": f"http://127.0.0.1:{behind}",
        "/etc/ssl/roundelay/": f"{folder}/",
    }
    text = CONFIGURATION.read_text("utf-8")
    for documented, here in swaps.items():
        assert documented in text, documented
        text = text.replace(documented, here)
    places = "".join(
        f"{kind}_temp_path {folder}/{kind};\n"
        for kind in ("client_body", "proxy", "fastcgi", "uwsgi", "scgi")
    )
    return (
        f"daemon off;\npid {folder}/nginx.pid;\nerror_log {folder}/error.log;\n"
        f"events {{}}\nhttp {{\naccess_log off;\n{places}{text}\n}}\n"
    )


def _wait(port: int, child: subprocess.Popen[bytes]) -> None:
    pause = threading.Event()
    for _ in range(200):
        assert child.poll() is None, "nginx did not take the documented configuration"
        with socket.socket() as probe:
            if probe.connect_ex(("127.0.0.1", port)) == 0:
                return
        pause.wait(0.05)
    raise AssertionError("nginx did not answer")
