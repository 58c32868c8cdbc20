"""Work done beside other work on a second core: a piece of work in, a way to fetch its bytes out.

The work runs in a copy of this process and comes back through a pipe. Where the system cannot copy a process safely (only Linux is
trusted to), where there is one core, or when anything went wrong in the copy, the work is done here when it is fetched, so the bytes
and the errors are the same either way.
"""

import contextlib
import os
import pickle
import signal
import sys
from collections.abc import Callable, Iterator, Mapping
from io import BytesIO

Work = Callable[[], bytes]


@contextlib.contextmanager
def beside(work: Work) -> Iterator[Work]:
    """The work started on another core; call what is given to have its bytes. What nobody fetched is ended with the block."""
    if not sys.platform.startswith("linux") or (os.cpu_count() or 1) < 2:
        yield work
        return
    fetch, send = os.pipe()
    sys.stdout.flush()  # or the copy would print again what still waits to be printed
    copy = os.fork()
    if not copy:
        _work_and_leave(work, fetch, send)
    os.close(send)
    with open(fetch, "rb") as pipe:
        ended: list[int] = []

        def fetched() -> bytes:
            answer = pipe.read()
            ended.append(os.waitpid(copy, 0)[1])
            return answer if ended == [0] else work()

        try:
            yield fetched
        finally:
            if not ended:
                os.kill(copy, signal.SIGKILL)
                os.waitpid(copy, 0)


def _work_and_leave(work: Work, fetch: int, send: int) -> None:
    """In the copy: do the work, send it, and leave without a trace of this process's own ending."""
    failed = 1
    with contextlib.suppress(BaseException):
        os.close(fetch)
        with open(send, "wb") as pipe:
            pipe.write(work())
        failed = 0
    os._exit(failed)


def packed(answer: object, *, common: Mapping[int, object]) -> bytes:
    """An answer as bytes. What both sides had before the work began is named by its id, so that it comes back as the very same."""
    whole = BytesIO()
    _Packer(whole, common).dump(answer)
    return whole.getvalue()


def unpacked(content: bytes, *, common: Mapping[int, object]) -> object:
    """The answer again."""
    return _Unpacker(BytesIO(content), common).load()


class _Packer(pickle.Pickler):
    def __init__(self, whole: BytesIO, common: Mapping[int, object]) -> None:
        super().__init__(whole, protocol=pickle.HIGHEST_PROTOCOL)
        self._common = common

    def persistent_id(self, thing: object) -> int | None:
        return id(thing) if id(thing) in self._common else None


class _Unpacker(pickle.Unpickler):
    def __init__(self, content: BytesIO, common: Mapping[int, object]) -> None:
        super().__init__(content)
        self._common = common

    def persistent_load(self, name: int) -> object:
        return self._common[name]
