"""Ids of everything on the page that a callback reads or writes."""

WORK = "work"
"""Store: what the user works on, sound; every page listens to it."""
START = "start"
"""Store: what the pages open on."""
DRAFTS = "drafts"
"""Store: what was typed and cannot be counted, by control."""
SETTLED = "settled"
"""Store: counts how often the work was set from elsewhere than the controls, which then follow it."""
VISIBLE = "visible"
"""Store: path of the page in sight."""
PAGE = "page"
"""What that page shows."""
PANEL = "panel"
"""Room for the controls."""
UNDO = "undo"
"""Button: takes the last change back."""

SCHEME = "scheme"
"""Store: "light" or "dark", as the page is."""
LARGE_TYPE = "large-type"
"""Button: type to be read at arm's length."""
TEMPLATES = "templates"
"""Store: how pictures look in either."""
SCHEME_SWITCH = "scheme-switch"
"""Button: light or dark."""

SHOWN_AS, SHOWN_AS_TITLE = "shown-as", "shown-as-title"
"""Room in which units, currency and formats are chosen."""

HABITS = "habits"
"""How the time is shared between slow, middle and full throttle."""
HABITS_TOLD = "habits-told"
"""The same in words."""
ENGINES = "engines"
"""Which engines are compared."""
MORE = "more"
"""Button: opens the controls that are out of sight on small screens."""
SHEET = "sheet"
"""The controls."""
RESTORE = "restore"
"""Button: every control back to what the file says."""

OPEN, SAVE, LINK = "open", "save", "link"
"""Buttons of the bar: open a scenario, save it as a file, send it as a link."""
OPENING, OPENING_TITLE, OPEN_OWN, OPEN_TOLD = "opening", "opening-title", "open-own", "open-told"
"""What can be opened; a file of one's own; what is wrong with it."""
OPEN_ASKED = "open-asked"
"""Store: what shall be opened, a name of the library or a file's name and text."""
SAVED = "saved"
"""Download: the file."""
LINK_TOLD = "link-told"
"""Whether the link was copied."""
SAID = "said"
"""Holds what the browser says by itself."""

PAPER, PAPER_OPEN, PAPER_TITLE, PAPER_TOLD = "paper", "paper-open", "paper-title", "paper-told"
"""Room in which a sheet to take home is asked for; what opens it; what went wrong."""
SHOP, CUSTOMER, PAPER_NOTE = "paper-shop", "paper-customer", "paper-note"
"""Whose sheet it is."""
PAPER_SIZE, PAPER_LANGUAGE = "paper-size", "paper-language"
"""On which paper, in which language."""

TITLE, NOTE = "title", "note"
"""The scenario's own words about itself."""

ANSWER = "answer"
"""The answer in one sentence."""
ANSWER_BEFORE, ANSWER_FIGURE, ANSWER_AFTER = "answer-before", "answer-figure", "answer-after"
"""Its parts: up to the figure, the figure, the rest."""
WHEN = "when"
"""From when on, and from how many hours."""
NOT_COUNTED = "not-counted"
"""Which fields the answer does not count yet."""
TROUBLE = "trouble"
"""What went wrong on the server, in a fixed sentence."""
RESULTS = "results"
"""Everything that follows the controls."""
NOTES = "notes"
"""What a reader should know about the figures."""

TRIALS = "trials"
"""How many trials stand behind what the pages say."""
LONG_RUN, LONG_RUN_START, LONG_RUN_STOP = "long-run", "long-run-start", "long-run-stop"
"""What many more trials say; buttons that start and stop them."""
LONG_RUN_JOB, LONG_RUN_CLOCK = "long-run-job", "long-run-clock"
"""Store: the name of the run; the clock by which the page asks how far it is."""

EDITOR = "editor"
"""The form of all numbers."""
EDIT = "edit"
"""Store: one change in that form."""
EDIT_PART = "edit-part"
"""Store: which part of that form is in sight."""
EDIT_DONE = "edit-done"
"""Store: which change was worked on last; the browser then sends the next."""

OPENED = "opened"
"""Store: which figure's rows are open, and in which order they stand."""
DRAWER, DRAWER_CONTENT, DRAWER_TITLE = "drawer", "drawer-content", "drawer-title"
"""The rows behind a figure."""

STILL = "still"
"""Store: the work once it has stood still for a moment; what takes long listens to it."""

ELEMENTS = "elements"
"""Picture: cost by element."""
ELEMENTS_OPEN = "elements-open"
"""Opens and closes the table of its figures."""
ELEMENTS_TABLE = "elements-table"
"""Its figures as a table."""
CUMULATIVE = "cumulative"
"""Picture: cost since delivery."""
HOURS_CURVE = "hours-curve"
"""Picture: the cheapest engine over hours a year."""
BY_YEAR = "by-year"
"""Picture: what running costs year by year."""
MAP_YEARS, MAP_FUEL = "map-years", "map-fuel"
"""Pictures: the map of the cheapest engine over hours and years, and over hours and the fuel price."""
CHANCE, DIFFERENCE, SWING = "chance", "difference", "swing"
"""Pictures: chance over hours, the difference over the trials, what swings it."""
CALENDAR, COVER, FLOW = "calendar", "cover", "flow"
"""Pictures: service visits, who pays repairs, fuel flow."""
FLIPS_PART = "flips-part"
"""Flip points as sentences."""

ASKED_ENGINE, ASKED_AGAINST = "asked-engine", "asked-against"
"""Which engines the questions of the counter are about."""
PLAIN = "plain"
"""Switch: answers in plain words."""

WHEN_PART, SURE_PART, SERVICE_PART, COVER_PART = "when-part", "sure-part", "service-part", "cover-part"
RUNNING_PART, SOURCES_PART = "running-part", "sources-part"
"""What follows the work on the pages of those names."""


def slider(field: str) -> str:
    """Slider of a field."""
    return f"{field}-slider"


def box(field: str) -> str:
    """Number box of a field."""
    return f"{field}-box"


def paper_as(kind: str) -> str:
    """Button: the sheet printed or as a kind of file."""
    return f"paper-as-{kind}"


def graph(picture: str) -> str:
    """A picture on the page."""
    return f"{picture}-graph"


def title(picture: str) -> str:
    """What a picture says, above it."""
    return f"{picture}-title"


def below(picture: str) -> str:
    """What stands under a picture: what its parts are."""
    return f"{picture}-legend"


def figures(picture: str) -> str:
    """The figures of a picture as a table."""
    return f"{picture}-figures"


def opens_figures(picture: str) -> str:
    """Opens and closes them."""
    return f"{picture}-opens-figures"


def saves(picture: str, kind: str) -> str:
    """Button: saves a picture as a file, "png" or "svg"."""
    return f"{picture}-saves-{kind}"
