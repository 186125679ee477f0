"""The code that draws the pictures: the installed one, without its wrapper."""

import ast
from importlib import resources

from dashboard import picture_code
from dashboard.app import build_app
from tests.rules.project import python_files


def test_the_installed_code_loses_its_wrapper_and_keeps_its_licence() -> None:
    sent = picture_code.picture_code().decode()

    assert sent.startswith("/**\n* plotly.js v")
    assert "Licensed under the MIT license" in sent[:300]
    assert "function(root, factory)" not in sent[:1000]
    assert sent.endswith("window.Plotly = Plotly;\n")


def test_code_wrapped_in_another_way_is_sent_as_it_is() -> None:
    assert picture_code.unwrapped("/* licence */ (function () { window.Plotly = 1; })();").endswith("})();")


def test_it_is_sent_to_be_kept_and_the_page_says_where_it_is() -> None:
    client = build_app().server.test_client()
    place = picture_code.address("/")

    answer = client.get(place)

    assert answer.status_code == 200
    assert answer.mimetype == "text/javascript"
    assert "max-age=31536000" in answer.headers["Cache-Control"]
    assert f'href="{place}"' in client.get("/").get_data(as_text=True)


def kinds_of(code: str) -> set[str]:
    """Kinds of traces that code begins."""
    begun = picture_code.BEGUN.search(code)
    assert begun is not None
    return {picture_code._kind_of(code, call.removesuffix("()")) for call in begun[1].split(",")}


def types_in_the_pages() -> set[str]:
    """Every text that a file of the pages gives as a type."""
    found = set()
    for path in python_files("dashboard"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Dict):
                for key, value in zip(node.keys, node.values, strict=True):
                    if isinstance(key, ast.Constant) and key.value == "type" and isinstance(value, ast.Constant):
                        found.add(str(value.value))
    return found


class TestKinds:
    WHOLE = resources.files("plotly").joinpath("package_data/plotly.min.js").read_text(encoding="utf-8")

    def test_it_begins_what_the_pages_draw_and_no_more(self) -> None:
        assert kinds_of(picture_code.picture_code().decode()) == picture_code.DRAWN
        assert types_in_the_pages() & kinds_of(self.WHOLE) == picture_code.DRAWN

    def test_it_is_left_whole_where_a_kind_is_not_found(self) -> None:
        assert picture_code.with_kinds(self.WHOLE, frozenset({"bar", "no such kind"})) == self.WHOLE
        assert picture_code.with_kinds("no list in it") == "no list in it"
