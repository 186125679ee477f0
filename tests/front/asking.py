"""Callbacks called as the browser calls them."""

from typing import Any

from flask.testing import FlaskClient


def ask(client: FlaskClient, output: str, changed: dict[str, Any]) -> Any:
    """What a callback answers to values by id (of states by id and property), the last one changed."""
    for known in client.get("/_dash-dependencies").get_json():
        if output in known["output"]:
            break
    else:
        raise AssertionError(f"nothing answers {output}")
    names = known["output"].strip(".").split("...")
    outputs = [dict(zip(("id", "property"), name.rsplit(".", 1), strict=True)) for name in names]
    inputs = [{**part, "value": changed.get(part["id"])} for part in known["inputs"]]
    state = [{**part, "value": changed.get(f"{part['id']}.{part['property']}")} for part in known["state"]]
    causes = [part for part in inputs if part["id"] in changed][-1:]
    body = {
        "output": known["output"],
        "outputs": outputs if known["output"].startswith("..") else outputs[0],
        "inputs": inputs,
        "state": state,
        "changedPropIds": [f"{part['id']}.{part['property']}" for part in causes],
    }
    answer = client.post("/_dash-update-component", json=body)
    assert answer.status_code == 200, answer.get_data(as_text=True)
    return answer.get_json()
