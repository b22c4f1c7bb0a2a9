"""The compiled loops, where they can be had.

Without numba, or without a folder to keep what it compiles, the plain twins do the same work.
"""

from functools import cache
from importlib import import_module
from types import ModuleType

SERVED = (
    "roots",
    "bed",
    "soil",
    "ring",
    "beneath",
    "stress",
)
"""What a service warms when it starts."""
_READY: dict[str, ModuleType] = {}


def warm(*names: str) -> None:
    """Load these modules and rehearse them, for a service that stays up: from then on `ready` has them."""
    for name in names:
        module = compiled(name)
        if module is not None:
            module.rehearse()
            _READY[name] = module


def ready(name: str) -> ModuleType | None:
    """The module of that name if it has been warmed, else None: no single question waits for it."""
    return _READY.get(name)


@cache
def compiled(name: str) -> ModuleType | None:
    """The module of that name among the compiled loops (``compiled``, ``compiled.light``), or None.

    Loading it takes a second, and its first call in a new environment several: only for long lists.
    """
    try:
        return import_module(f"kb.mixture.compiled.{name}")
    except (ImportError, RuntimeError):  # RuntimeError: numba finds no folder for its cache
        return None
