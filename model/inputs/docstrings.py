"""The docstrings under fields, from the source of their file: read once for all its tables."""

import ast
import inspect
import sys
from functools import cache
from pathlib import Path


@cache
def docstrings_of(module: str) -> dict[str, dict[str, str]]:
    """
    What stands under the fields of the classes of a module.

    Parameters
    ----------
    module : str
        Its name; it may be on its way in.

    Returns
    -------
    dict of str to dict of str to str
        By class and field; empty where there is no source to read.

    >>> docstrings_of("model.inputs.warranty")["Extension"]["price"]
    'Its price, paid at delivery. [money]'
    """
    try:  # not by `inspect`, which looks through every module that is loaded
        tree = ast.parse(Path(sys.modules[module].__file__ or "").read_text(encoding="utf-8"))
    except OSError:
        return {}
    return {node.name: dict(_under_fields(node)) for node in tree.body if isinstance(node, ast.ClassDef)}


def _under_fields(node: ast.ClassDef) -> list[tuple[str, str]]:
    """Fields of a class that are followed by a text, each with it."""
    return [
        (field.target.id, inspect.cleandoc(under.value.value))
        for field, under in zip(node.body, node.body[1:], strict=False)
        if isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name)
        if isinstance(under, ast.Expr) and isinstance(under.value, ast.Constant) and isinstance(under.value.value, str)
    ]
