"""`phasewright page`: the page in the browser, served on this computer alone."""

from __future__ import annotations

import gc
import signal
import socket
import threading
import webbrowser
from pathlib import Path
from types import FrameType

from phasewright.command.progress import compile_once
from phasewright.command.screen import line, screen
from phasewright.quantities.errors import MachineFault

PORT = 8765
TRIES = 20
"""Ports tried one after the other where none is asked for."""
LAST_ANSWERS_S = 3
"""How long answers on their way are waited for when the server ends."""
SELDOM = (50_000, 20, 100)
"""How often the server and its studies look for circles of things that nothing holds any more."""
MOST_AT_ONCE = 1000
"""Connections of strangers at one time."""


def serve(shop: Path | None, port: int | None, *, public: bool, browser: bool) -> None:
    """Serve the page until Ctrl-C; raises ShopFileError for mistakes in the shop's file and
    MachineFault where no port is free."""
    from phasewright.job.read import read, text

    if shop is not None:
        read(shop)  # its mistakes are told by its own name
    opened = None if shop is None else text(shop)
    compile_once()
    import uvicorn

    from phasewright.job.keeping import users_shops
    from phasewright.page.server import page

    folder = None if public else users_shops()
    gc.set_threshold(*SELDOM)
    gc.enable()
    app, start = page(public=public, text=opened, folder=folder, warm=True)
    host = "0.0.0.0" if public else "127.0.0.1"
    door = _door(host, port)
    address = f"http://127.0.0.1:{door.getsockname()[1]}{start}"
    console = screen()
    line(console, f"The page is at {address}", inset=0)
    if public:
        line(
            console,
            "Whoever reaches this computer over the network is served. Each sees the shops alone "
            "whose address they have; nothing is kept. What is sent is not encrypted.",
            inset=0,
        )
    if folder is None:
        line(console, "Ctrl-C ends it, and every shop that is open with it.", inset=0)
    else:
        line(console, f"Shops are kept by themselves in {folder.folder}", inset=0)
        line(console, "Ctrl-C ends it.", inset=0)
    if browser:
        threading.Timer(0.5, webbrowser.open, (address,)).start()

    class Server(uvicorn.Server):
        """Lets go whoever waits for a study as soon as it is asked to end."""

        def handle_exit(self, sig: int, frame: FrameType | None) -> None:
            threading.Thread(target=app.state.shelf.close).start()
            super().handle_exit(sig, frame)

    server = Server(
        uvicorn.Config(
            app,
            log_level="warning",
            access_log=False,
            server_header=False,
            timeout_graceful_shutdown=LAST_ANSWERS_S,
            limit_concurrency=MOST_AT_ONCE if public else None,
        )
    )
    signal.signal(signal.SIGTERM, _asked_to_end)  # raised again once the server has ended
    server.run(sockets=[door])


def _asked_to_end(number: int, frame: FrameType | None) -> None:
    raise SystemExit(0)


def _door(host: str, port: int | None) -> socket.socket:
    """A socket that listens on the port asked for, else on the first that is free."""
    wanted = [port] if port is not None else list(range(PORT, PORT + TRIES))
    for number in wanted:
        door = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            door.bind((host, number))
            door.listen()
        except OSError as fault:
            door.close()
            refused = fault
            continue
        return door
    told = f"port {port}" if port is not None else f"any port from {PORT} to {wanted[-1]}"
    raise MachineFault(f"The page could not be served on {told}: {refused.strerror}.")
