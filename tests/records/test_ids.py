"""Ids sort by the moment they were made and never repeat."""

import uuid
from datetime import UTC, datetime, timedelta

from neuroform.records.ids import new_id

AT = datetime(2026, 11, 20, 10, 15, 7, tzinfo=UTC)


def test_an_id_is_a_version_seven_uuid() -> None:
    made = uuid.UUID(new_id(AT))
    assert (made.version, made.variant) == (7, uuid.RFC_4122)
    assert made.int >> 80 == int(AT.timestamp() * 1000)


def test_the_example_of_the_standard_comes_out() -> None:
    # RFC 9562, appendix A.6: 22 February 2022 14:22:22 in UTC-5, rand_a 0xCC3, rand_b 0x18C4DC0C0C07398F.
    at = datetime(2022, 2, 22, 19, 22, 22, tzinfo=UTC)
    bits = (0xCC3 << 62 | 0x18C4DC0C0C07398F).to_bytes(10, "big")
    assert new_id(at, random=lambda _count: bits) == "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"


def test_later_ids_sort_later_and_none_repeats() -> None:
    made = [new_id(AT + timedelta(milliseconds=n)) for n in range(1000)]
    assert sorted(made) == made
    assert len({new_id(AT) for _ in range(10_000)}) == 10_000
