"""The shipped base, opened once, for tests that judge real plants."""

from functools import cache

from kb.mixture.profile import Profile
from kb.repository import open_repository
from kb.snapshot import Snapshot


@cache
def base() -> Snapshot:
    """The whole of it."""
    return open_repository(None).snapshot()


def shipped(name: str) -> Profile:
    """One plant of it, by any of its names."""
    return base().profile(base().resolve(name))
