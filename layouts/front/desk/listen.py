"""Where the desk is heard: on this machine alone, or, where it is told so, at one other address of it and with a key.

A tablet at the packing table is another machine. Nothing is encrypted on the way, so the address is named by whoever starts
the desk, is one and never "all", and every request shows a key that is new each time.
"""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from ipaddress import AddressValueError, IPv4Address

THIS_MACHINE = "127.0.0.1"


@dataclass(frozen=True, slots=True)
class Place:
    """An IPv4 address; key: what a request must show, None on this machine alone."""

    address: str = THIS_MACHINE
    key: str | None = None

    def hosts(self, port: int) -> frozenset[str]:
        """What the Host header may say on that port."""
        names = (self.address, "localhost") if self.key is None else (self.address,)
        return frozenset((*(f"{name}:{port}" for name in names), *(names if port == 80 else ())))

    def url(self, port: int) -> str:
        """What is opened in a browser, the key in it."""
        return f"http://{self.address}:{port}/" + (f"?key={self.key}" if self.key else "")


def place_at(address: str) -> Place:
    """The place for the address a user names. ValueError, in words, for what is no single IPv4 address."""
    try:
        found = IPv4Address(address)
    except AddressValueError:
        raise ValueError(f"{address!r} is no IPv4 address; write one of this machine's, as 192.168.1.20") from None
    if found.is_unspecified or found.is_multicast or found == IPv4Address("255.255.255.255"):
        raise ValueError(f"{address} is not one address; name the one of this machine that the tablet can reach")
    return Place(str(found)) if found == IPv4Address(THIS_MACHINE) else Place(str(found), secrets.token_urlsafe(16))
