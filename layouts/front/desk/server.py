"""``sixface desk``: listens where it is told, and closes what does not come to the point."""

from __future__ import annotations

import asyncio
import os
import socket
import sys
from contextlib import suppress
from errno import EADDRNOTAVAIL
from pathlib import Path
from typing import Any

from layouts.front.desk.listen import Place
from layouts.front.desk.pool import Pool
from layouts.front.desk.reply import LIMIT

#: So many connections at once; further ones are told to come back.
CONNECTIONS = 100


def serve(port: int, folder: Path, at: Place) -> None:
    """Answer until ctrl-C. port 0: any that is free. OSError where the port is taken, the address is none of this
    machine's or the folder is none."""
    records = folder.resolve(strict=True)
    if not records.is_dir():
        raise NotADirectoryError(20, "is no folder", str(folder))
    with socket.socket(
        socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP
    ) as listener:  # said, so that asyncio sends at once
        if os.name == "posix":  # elsewhere it would let two listen on one port
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listener.bind((at.address, port))
        except OSError as error:
            other = (
                "--listen takes an address of this machine" if error.errno == EADDRNOTAVAIL else "--port takes another"
            )
            raise OSError(error.errno, f"{error.strerror}; {other}", f"{at.address}:{port}") from None
        listener.listen(CONNECTIONS)
        pool = Pool(records)  # begins to load while the server does
        try:
            _listen(listener, pool, records, at)
        finally:
            pool.end()


def _listen(listener: socket.socket, pool: Pool, records: Path, at: Place) -> None:
    import uvicorn

    from layouts.front.desk.app import make_app
    from layouts.front.desk.guard import Guard
    from layouts.front.desk.patience import Patient

    port = listener.getsockname()[1]
    config = uvicorn.Config(
        Guard(make_app(pool), at.hosts(port), at.key),
        http=Patient,
        ws="none",
        loop="asyncio",
        lifespan="off",
        log_level="warning",
        access_log=False,
        proxy_headers=False,
        server_header=False,
        limit_concurrency=CONNECTIONS,
        timeout_keep_alive=int(LIMIT),
        timeout_graceful_shutdown=1,
    )
    print(f"sixface desk: {at.url(port)}", flush=True)
    print(f"records are read from and saved in {records}; ctrl-C ends it", flush=True)
    if at.key:
        print("whoever has this address and key may read and save there; what is sent is not encrypted", flush=True)
        if sys.stdout.isatty():
            _show_code(at.url(port))
    server: Any = uvicorn.Server(config)
    with suppress(KeyboardInterrupt):
        asyncio.run(server.serve(sockets=[listener]))


def _show_code(url: str) -> None:
    """The address as a QR code in the terminal, for a tablet's camera."""
    from qrcode import QRCode

    code = QRCode(border=2)
    code.add_data(url)
    code.print_ascii(invert=True)
