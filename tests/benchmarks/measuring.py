"""Timing two things in turn and printing their ratio: medians of processor time, as machines are shared.

What uses several processors is timed by the clock on the wall instead, and so is what it is held against.
"""

import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Figure:
    """One line of the report: what was timed, beside what, medians in ms."""

    name: str
    baseline: str
    took_ms: float
    baseline_ms: float

    def line(self) -> str:
        ratio = self.took_ms / self.baseline_ms
        return (
            f"{self.name:72}{self.took_ms:10.3f} ms{ratio:9.1f} ×  "
            f"{self.baseline} ({self.baseline_ms:.3f} ms)\n"
        )


def compare(
    name: str,
    run: Callable[[], object],
    baseline_name: str,
    baseline: Callable[[], object],
    *,
    rounds: int,
    clock: Callable[[], float] = time.thread_time,
) -> Figure:
    """Median times of both, run A B A B after one warm-up each, by this thread's processor time."""
    run()
    baseline()
    times: tuple[list[float], list[float]] = ([], [])
    for _ in range(rounds):
        for series, task in zip(times, (run, baseline), strict=True):
            start = clock()
            task()
            series.append((clock() - start) * 1000)
    return Figure(name, baseline_name, statistics.median(times[0]), statistics.median(times[1]))


def report(figures: list[Figure]) -> None:
    """Print the table."""
    sys.stdout.write(f"{'what':72}{'median':>13}{'ratio':>11}  baseline\n")
    for figure in figures:
        sys.stdout.write(figure.line())
