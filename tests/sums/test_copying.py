"""A merged document copied: settings put into the copy leave the files as they were."""

from pathlib import Path

from model.inputs.copying import copied
from model.inputs.files import parse_toml
from model.inputs.merging import apply_settings, merge
from model.inputs.reading import read_merged

DEMO = Path(__file__).parents[2] / "scenarios" / "sailing-school-launch.toml"


def test_settings_put_into_a_copy_leave_the_original_as_it_was() -> None:
    merged, untouched = (merge(DEMO, parse_toml(DEMO)) for _ in range(2))
    name = merged.document["engines"][0]["name"]
    settings = {"prices.fuel": 9.0, f'engines["{name}"].price': 1.0, f'engines["{name}"].repair[1].scale': 5.0}
    changed = copied(merged, settings)
    apply_settings(changed, [], settings)
    assert merged == untouched
    assert changed.document != merged.document


def test_a_copy_reads_the_same() -> None:
    merged = merge(DEMO, parse_toml(DEMO))
    assert read_merged(copied(merged, ())) == read_merged(merge(DEMO, parse_toml(DEMO)))
