"""Many recordings at once, on all cores.

Conventions: a job is a plain value, sent to a process of its own interpreter (spawned, never forked: threads of the
speech or the sound library must not be copied); what it returns comes back in the order in which jobs end. One that
fails is told in its place and the others go on.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from functools import partial
from multiprocessing import get_context
from typing import Generic, TypeVar

from caller.children.starting import safe_paths

Job = TypeVar("Job")
Made = TypeVar("Made")


@dataclass(frozen=True, slots=True)
class JobResult(Generic[Job, Made]):
    """What came of a job: made, or else why not, in one sentence."""

    job: Job
    made: Made | None
    why: str = ""


def each_made(
    jobs: Iterable[Job], make: Callable[[Job], Made], workers: int, failures: tuple[type[Exception], ...] = ()
) -> Iterator[JobResult[Job, Made]]:
    """Runs ``make`` on each job, on so many cores; with one, here and now.

    make: a function of a module, as another process has to find it. failures: what it may raise; anything else is
    raised here.
    """
    listed = list(jobs)
    if workers <= 1 or len(listed) <= 1:
        for job in listed:
            yield _outcome(job, partial(make, job), failures)
        return
    with safe_paths(), ProcessPoolExecutor(min(workers, len(listed)), mp_context=get_context("spawn")) as pool:
        futures = {pool.submit(make, job): job for job in listed}
        try:
            for future in as_completed(futures):
                yield _outcome(futures[future], future.result, failures)
        finally:
            for future in futures:
                future.cancel()


def _outcome(job: Job, result: Callable[[], Made], failures: tuple[type[Exception], ...]) -> JobResult[Job, Made]:
    try:
        return JobResult(job, result())
    except BrokenProcessPool:
        return JobResult(job, None, "a process that was working on it ended; run it again, it goes on where it stopped")
    except failures as fault:
        return JobResult(job, None, str(fault))
