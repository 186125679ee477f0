"""Sentences that catalogues lack, to be filled in: `python -m tests.rules.missing_sentences [LANGUAGE] >> FILE.po`."""

import sys

from babel.messages.pofile import escape

from tests.rules.sentences import missing, other_languages


def skeleton(language: str) -> str:
    """
    Entries for a catalogue of a language, each waiting for its sentence.

    Parameters
    ----------
    language : str
        One of `model.language.LANGUAGES`.

    Returns
    -------
    str
        Empty where nothing is missing. Source: gettext's PO format.
    """
    return "".join(
        f'\n#: {place}\nmsgid {escape(sentence)}\nmsgstr ""\n' for sentence, place in missing(language).items()
    )


if __name__ == "__main__":
    for wanted in sys.argv[1:] or other_languages():
        sys.stdout.write(skeleton(wanted))
