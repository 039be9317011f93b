"""Lays sheets out in another process while this one goes on making versions; in this one where there is only one."""

from __future__ import annotations

import multiprocessing
from collections.abc import Iterable, Iterator
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any, Protocol

from packgen.booklet.pdf import Page, weasyprint_or_why, write_pdf


class PressFault(Exception):
    """The other process could not write the PDF; `str()` says why."""


class Press(Protocol):
    """Takes pages as they come and gives the finished PDF."""

    def add(self, pages: Iterable[Page]) -> None: ...

    def finish(self) -> bytes: ...

    def stop(self) -> None: ...


class HerePress:
    """Keeps the pages and lays them out at the end."""

    def __init__(self, weasyprint: Any, css: str, root: Path) -> None:
        self._weasyprint, self._css, self._root = weasyprint, css, root
        self._pages: list[Page] = []

    def add(self, pages: Iterable[Page]) -> None:
        self._pages += pages

    def finish(self) -> bytes:
        return write_pdf(self._weasyprint, self._pages, self._css, self._root)

    def stop(self) -> None:
        self._pages.clear()


class OtherPress:
    """Hands the pages to a process of its own, which lays each out as it comes."""

    def __init__(self, css: str, root: Path) -> None:
        spawn = multiprocessing.get_context("spawn")
        self._queue = spawn.Queue()
        self._result, far = spawn.Pipe(duplex=False)
        self._process = spawn.Process(target=_press, args=(self._queue, far, css, str(root)), daemon=True)
        self._process.start()
        far.close()

    def add(self, pages: Iterable[Page]) -> None:
        self._queue.put(tuple(pages))

    def finish(self) -> bytes:
        """The PDF. PressFault where the other process failed."""
        self._queue.put(None)
        try:
            data, why = self._result.recv()
        except EOFError as fault:
            raise PressFault("the process that lays out the sheets ended too soon") from fault
        finally:
            self._process.join()
        if why:
            raise PressFault(why)
        made: bytes = data
        return made

    def stop(self) -> None:
        """Ends the other process without a result."""
        self._process.terminate()
        self._process.join()


def press(weasyprint: Any, css: str, root: Path, processes: int) -> Press:
    """A press of its own where a second process may run, else one here."""
    if processes > 1:
        try:
            return OtherPress(css, root)
        except OSError:  # a machine that allows no semaphores
            pass
    return HerePress(weasyprint, css, root)


def _press(queue: Any, result: Connection, css: str, root: str) -> None:
    weasyprint, why = weasyprint_or_why()
    data = b""
    if weasyprint is not None:
        try:
            data = write_pdf(weasyprint, _coming(queue), css, Path(root))
        except Exception as fault:  # whatever it is, the other side has to hear of it and not to wait
            why = f"{type(fault).__name__}: {fault}"
    result.send((data, why))
    result.close()


def _coming(queue: Any) -> Iterator[Page]:
    while (pages := queue.get()) is not None:
        yield from pages
