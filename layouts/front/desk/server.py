"""``sixface desk``: listens on this machine alone, and closes what does not come to the point."""

from __future__ import annotations

import asyncio
import os
import socket
from contextlib import suppress
from pathlib import Path
from typing import Any

from layouts.front.desk.pool import Pool
from layouts.front.desk.reply import LIMIT

ADDRESS = "127.0.0.1"
#: So many connections at once; further ones are told to come back.
CONNECTIONS = 100


def serve(port: int, folder: Path) -> None:
    """Answer until ctrl-C. port 0: any that is free. OSError where the port is taken or the folder is none."""
    place = folder.resolve(strict=True)
    if not place.is_dir():
        raise NotADirectoryError(20, "is no folder", str(folder))
    with socket.socket(
        socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP
    ) as listener:  # said, so that asyncio sends at once
        if os.name == "posix":  # elsewhere it would let two listen on one port
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listener.bind((ADDRESS, port))
        except OSError as error:
            raise OSError(error.errno, f"{error.strerror}; --port takes another", f"{ADDRESS}:{port}") from None
        listener.listen(CONNECTIONS)
        pool = Pool(place)  # begins to load while the server does
        try:
            _listen(listener, pool, place)
        finally:
            pool.end()


def _listen(listener: socket.socket, pool: Pool, place: Path) -> None:
    import uvicorn

    from layouts.front.desk.app import make_app
    from layouts.front.desk.guard import Guard, hosts_of
    from layouts.front.desk.patience import Patient

    port = listener.getsockname()[1]
    config = uvicorn.Config(
        Guard(make_app(pool), hosts_of(port)),
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
    print(f"sixface desk: http://{ADDRESS}:{port}/", flush=True)
    print(f"records are read from and saved in {place}; ctrl-C ends it", flush=True)
    server: Any = uvicorn.Server(config)
    with suppress(KeyboardInterrupt):
        asyncio.run(server.serve(sockets=[listener]))
