"""The app as `heater-survey start` serves it, for tests in a real browser."""

from __future__ import annotations

import contextlib
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

__all__ = ["App", "served"]

_PATIENCE_S = 60


@dataclass(frozen=True)
class App:
    """The served app, and a way to take it out of reach."""

    url: str
    server: subprocess.Popen[bytes]

    def stop(self) -> None:
        """End the server, whether or not it still runs."""
        with contextlib.suppress(ProcessLookupError):
            os.killpg(self.server.pid, signal.SIGTERM)
        self.server.wait(timeout=20)


@contextlib.contextmanager
def served(place: Path) -> Iterator[App]:
    """Serve a data folder on a free port of this machine until the end of the block."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    server = subprocess.Popen(
        [sys.executable, "-m", "survey_app", "start", "--port", str(port), "--no-open", "--data", str(place)],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        env=os.environ,
        start_new_session=True,
    )
    app = App(f"http://127.0.0.1:{port}", server)
    try:
        for _ in range(2 * _PATIENCE_S):
            try:
                urllib.request.urlopen(app.url + "/_stcore/health", timeout=1).read()
                break
            except OSError:
                time.sleep(0.5)
        else:
            raise TimeoutError(f"The app on {place} did not answer within {_PATIENCE_S} s.")
        yield app
    finally:
        app.stop()
