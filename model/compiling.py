"""Compiled functions: plain loops turned into machine code by numba and kept between runs.

Numba's own file cache does not notice an edited function in another file and would go on with old sums, so the
cache folder is named by a hash of every source of the package, before anything is compiled.
"""

import hashlib
import os
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any, ParamSpec, TypeVar, cast

P = ParamSpec("P")
R = TypeVar("R")

PACKAGE = Path(__file__).parent
"""The folder whose sources name the cache."""


def sources_hash(package: Path = PACKAGE) -> str:
    """First 16 hex digits of the SHA-256 over names and bytes of all Python sources below a folder."""
    digest = hashlib.sha256()
    for path in sorted(package.rglob("*.py")):
        digest.update(path.relative_to(package).as_posix().encode() + b"\0" + path.read_bytes() + b"\0")
    return digest.hexdigest()[:16]


def cache_folder(package: Path = PACKAGE) -> Path:
    """The folder of compiled code for the sources as they are: beside them, or a user's own where that is read-only."""
    parent = package / "__pycache__"
    try:
        parent.mkdir(exist_ok=True)
        writable = os.access(parent, os.W_OK)
    except OSError:
        writable = False
    if not writable:
        parent = Path(tempfile.gettempdir()) / f"outboard-costs-{os.getuid() if hasattr(os, 'getuid') else 'user'}"
    return parent / f"compiled-{sources_hash(package)}"


def is_prepared() -> bool:
    """Whether an earlier run has left compiled code for these very sources."""
    return any(cache_folder().rglob("*.nbi"))


def _use_cache_folder() -> None:
    """Point numba at this version's folder and remove those of older sources."""
    folder = cache_folder()
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    os.environ["NUMBA_CACHE_DIR"] = str(folder)
    for older in folder.parent.glob("compiled-*"):
        if older != folder:
            shutil.rmtree(older, ignore_errors=True)


_use_cache_folder()


def compiled(function: Callable[P, R]) -> Callable[P, R]:
    """Compile a plain function on first call, keep it between runs, and let other threads run meanwhile."""
    import numba

    return cast(Callable[P, R], numba.njit(cache=True, nogil=True, error_model="numpy")(cast(Any, function)))
