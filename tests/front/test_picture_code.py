"""The code that draws the pictures: the installed one, without its wrapper."""

from dashboard import picture_code
from dashboard.app import build_app


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
    assert f'content="{place}"' in client.get("/").get_data(as_text=True)
