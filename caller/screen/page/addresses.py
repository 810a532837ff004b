"""Addresses: which are this machine's alone."""

from __future__ import annotations

import ipaddress


def is_loopback(address: str) -> bool:
    """Whether only this machine reaches it: "127.0.0.1", "::1", "[::1]", "localhost"."""
    try:
        return address == "localhost" or ipaddress.ip_address(address.strip("[]")).is_loopback
    except ValueError:
        return False
