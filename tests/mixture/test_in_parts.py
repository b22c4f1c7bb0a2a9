"""Long loops in parts: every place once, whatever the number of processors."""

import threading

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.mixture import in_parts as module
from kb.mixture.in_parts import in_parts, processors


@given(st.integers(0, 1000), st.integers(0, 400), st.integers(1, 9))
def test_every_place_is_done_once(count: int, least: int, available: int) -> None:
    """Parts join without gap or overlap, and none but a lone one is smaller than asked."""
    done: list[tuple[int, int]] = []
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(module, "processors", lambda: available)
        in_parts(count, least, lambda start, stop: done.append((start, stop)))
    done.sort()

    assert [place for start, stop in done for place in range(start, stop)] == list(range(count))
    assert len(done) <= max(1, available)
    assert len(done) == 1 or min(stop - start for start, stop in done) >= least


def test_what_a_part_raises_is_raised() -> None:
    """Whichever thread it fails in."""

    def fails(start: int, stop: int) -> None:
        if stop == 10:
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        in_parts(10, 1, fails)


def test_parts_run_side_by_side() -> None:
    """Where there are two processors, two parts meet; with one there is one part."""
    parts = min(2, processors())
    meeting = threading.Barrier(parts, timeout=30)
    in_parts(parts, 1, lambda _start, _stop: meeting.wait())

    assert not meeting.broken
