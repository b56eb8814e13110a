"""Which time-stamp service vouches for the moment of signing, and how far its proof goes."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

Level = Literal["T", "LT", "LTA"]


@dataclass(frozen=True, kw_only=True)
class TimeService:
    """A time-stamp service (RFC 3161)."""

    url: str
    """Where it answers."""
    level: Level = "T"
    """T: the moment is proven. LT: lists of withdrawn certificates travel along. LTA: the whole file is stamped."""
    trust: Sequence[bytes] = ()
    """For LT and LTA: the authorities of signer and service (PEM), lists of withdrawn certificates among them."""
    timeout: float = 10.0
    """How long to wait for an answer, in seconds."""
