"""Which sources compiled code comes from: the files that compile something, and all that they import, however far.

Found by looking at the text, for nothing of the package is loaded when this is asked. In doubt a file counts: an import
inside a function or a text is one too.
"""

import re
from collections.abc import Mapping

COMPILES = (b"@compiled", b".compiled", b"compiled(", b"compiled as")
"""What a file says that compiles a function."""

FROM = re.compile(rb"\n[ \t]*from[ \t]+([\w.]+)[ \t]+import[ \t]*(\((?:[^()#]|#[^\n]*)*\)|[^\n]*)")
"""An import of names from a module, on one line or within brackets."""

IMPORT = re.compile(rb"\n[ \t]*import[ \t]+([^\n]+)")
"""An import of modules."""

QUOTED = re.compile(rb"[\"'](\w+(?:\.\w+)+)[\"']")
"""A module's name as text."""

Sources = Mapping[str, bytes]
"""Files by their path below the package, with slashes."""


def compiled_from(sources: Sources, package: str) -> list[str]:
    """
    The files that compiled code depends on.

    Parameters
    ----------
    sources : mapping of str to bytes
        Every Python file of a package by its path below it, with slashes.
    package : str
        Name of the package.

    Returns
    -------
    list of str
        Paths in order: files that compile functions, what they import from the package, and what that imports.
    """
    found: set[str] = set()
    ahead = {path for path, text in sources.items() if any(mark in text for mark in COMPILES)}
    while ahead:
        found |= ahead
        ahead = {near for path in ahead for near in _imported(sources, path, package)} - found
    return sorted(found)


def _imported(sources: Sources, path: str, package: str) -> set[str]:
    """Files that a file may import, with the packages that they stand in."""
    text, modules = b"\n" + sources[path].replace(b"\\\n", b" "), set[str]()
    for module, names in FROM.findall(text):
        source = _from_the_top(module.decode(), path, package)
        if source.startswith(package):
            modules |= {f"{source}.{name}" for name in re.findall(r"\w+", names.decode())}
    named = IMPORT.findall(text) + (QUOTED.findall(text) if b"import_module" in text or b"__import__" in text else [])
    modules.update(name for names in named for name in re.findall(r"[\w.]+", names.decode()))
    return {file for module in modules for file in _files_of(module, package)} & sources.keys()


def _files_of(module: str, package: str) -> set[str]:
    """Where a module's file may stand, and those of the packages that it stands in."""
    first, *parts = module.split(".")
    if first != package:
        return set()
    places = ["/".join(parts[:length]) for length in range(1, len(parts) + 1)]
    return {"__init__.py"}.union(*((f"{place}.py", f"{place}/__init__.py") for place in places))


def _from_the_top(module: str, path: str, package: str) -> str:
    """A module's full name, also where the import counts dots from the file's own place."""
    name = module.lstrip(".")
    if name == module:
        return module
    folders = [package, *path.split("/")[:-1]]
    return ".".join([*folders[: len(folders) + 1 - (len(module) - len(name))], *([name] if name else [])])
