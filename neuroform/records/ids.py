"""Makes the ids of clinics, people, examinations and documents, from the first draft on."""

import os
from collections.abc import Callable
from datetime import datetime

LENGTH = 36


def new_id(at: datetime, *, random: Callable[[int], bytes] = os.urandom) -> str:
    """Return a UUID of version 7 (RFC 9562, 5.7): milliseconds of `at`, then 74 random bits; later ones sort later."""
    milliseconds = int(at.timestamp() * 1000)
    bits = int.from_bytes(random(10), "big")
    top = (milliseconds & (1 << 48) - 1) << 80
    low = (bits >> 62 & 0xFFF) << 64 | bits & (1 << 62) - 1
    text = f"{top | 7 << 76 | 0b10 << 62 | low:032x}"
    return "-".join((text[:8], text[8:12], text[12:16], text[16:20], text[20:]))
