"""Compiled functions: plain loops turned into machine code by numba and kept between runs.

Numba's own file cache does not notice an edited function in another file and would go on with old sums, so the
cache folder is named by a hash of every source that compiled code depends on, before anything is compiled.
"""

import hashlib
import os
import shutil
import time
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from typing import Any, ParamSpec, TypeVar, cast

from model.compiled_from import compiled_from

P = ParamSpec("P")
R = TypeVar("R")

A_DAY = 24 * 3600.0
"""After which an unused cache folder goes. [s]"""

PACKAGE = Path(__file__).parent
"""The folder whose sources name the cache."""


def sources_of(package: Path = PACKAGE) -> dict[str, bytes]:
    """All Python sources below a folder by their path, in order."""
    paths = [f"{folder}/{name}" for folder, _, names in os.walk(package) for name in names if name.endswith(".py")]
    sources = {}
    for path in sorted(paths):
        with open(path, "rb") as file:
            sources[os.path.relpath(path, package).replace(os.sep, "/")] = file.read()
    return sources


def sources_hash(package: Path = PACKAGE) -> str:
    """First 16 hex digits of the SHA-256 over names and bytes of all Python sources below a folder."""
    return _hash_of(sources_of(package))


def compiled_hash(package: Path = PACKAGE) -> str:
    """The same over those sources alone that compiled code depends on."""
    sources = sources_of(package)
    return _hash_of({path: sources[path] for path in compiled_from(sources, package.name)})


def _hash_of(sources: Mapping[str, bytes]) -> str:
    """First 16 hex digits of the SHA-256 over names and bytes."""
    digest = hashlib.sha256()
    for path, text in sources.items():
        digest.update(path.encode() + b"\0" + text + b"\0")
    return digest.hexdigest()[:16]


def cache_folder(package: Path = PACKAGE) -> Path:
    """The folder of compiled code for the sources as they are: beside them, or the user's own if that is read-only."""
    beside, name = package / "__pycache__", f"compiled-{compiled_hash(package)}"
    try:
        beside.mkdir(exist_ok=True)
        if os.access(beside, os.W_OK):
            return beside / name
    except OSError:
        pass
    home = os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache"
    return Path(home) / "outboard-costs" / name


def is_prepared() -> bool:
    """Whether an earlier run has left compiled code for these very sources."""
    return any(Path(os.environ["NUMBA_CACHE_DIR"]).rglob("*.nbi"))


def _use_cache_folder() -> None:
    """Point numba at this version's folder and remove those that no run can need any more."""
    folder = cache_folder()
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    os.environ["NUMBA_CACHE_DIR"] = str(folder)
    for other in folder.parent.glob("compiled-*"):
        # A younger one may belong to a program that runs at this moment, on sources edited since.
        if other != folder and time.time() - other.stat().st_mtime > A_DAY:
            shutil.rmtree(other, ignore_errors=True)


@cache
def _kept_code() -> Callable[[Any], Any]:
    """
    Numba's store of one function's compiled code, which loads it without declaring first all that could be compiled.

    Machine code needs none of those two thousand declarations, a third of a second in every process; a compilation, if
    there is one after all, makes them by itself.
    """
    from numba.core.caching import FunctionCache
    from numba.core.runtime.nrt import rtsys

    class KeptCode(FunctionCache):
        def load_overload(self, sig: Any, target_context: Any) -> Any:
            rtsys.initialize(target_context)
            with self._guard_against_spurious_io_errors():
                return self._load_overload(sig, target_context)  # type: ignore[no-untyped-call]

    return KeptCode


_use_cache_folder()


def compiled(function: Callable[P, R]) -> Callable[P, R]:
    """Compile a plain function on first call, keep it between runs, and let other threads run meanwhile."""
    import numba

    code: Any = numba.njit(nogil=True, error_model="numpy")(cast(Any, function))
    code._cache = _kept_code()(code.py_func)
    return cast(Callable[P, R], code)


def machine_word(of: str, read_as: str) -> object:
    """A function for compiled code: a machine word of one kind read as another of the same size, bit by bit."""
    import numba
    from numba.extending import intrinsic

    from_type, to_type = getattr(numba.types, of), getattr(numba.types, read_as)

    @intrinsic
    def read(_typing: Any, _word: Any) -> tuple[Any, Any]:
        def write(context: Any, builder: Any, _signature: Any, words: Any) -> Any:
            return builder.bitcast(words[0], context.get_value_type(to_type))

        return to_type(from_type), write

    return read
