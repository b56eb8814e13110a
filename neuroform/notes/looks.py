"""The measures and styles of papers, in points on A4."""

from neuroform.notes.pieces import Style

SPINE = 74.0
"""From the axis to the marks of the two sides."""
ANSWER = 83.0
"""From the axis to the answers of the two sides."""
HEAD = 58.0
"""Baseline of the head."""
TOP = 40.0
"""Where the first page's content begins."""
TOP_AFTER = 72.0
"""Where a later page's content begins."""
FOOT = 789.0
"""Where content ends."""
BANNER_AT = 34.0
LOGO_AT = 13.0
"""Top of the logo, above the head."""
LOGO_HIGH = 26.0
BASELINE = 0.72
"""From the top of a line to its baseline, in parts of the leading."""
AFTER_RULE = 3.0
BEFORE_RULE = 8.5
BEFORE_LETTER = 5.5
PITCH = 17.5
"""Of the findings' rows."""
SINGLE_PITCH = 15.0
"""Of rows with one answer, which no column has to keep apart."""
SQUEEZED = 0.45
"""The least that is left of empty room, in parts of it, where a paper would else take one more page."""
COMPANY = 120.0
"""How much of a paper stays with the signatures: they are never alone on a page."""
MARK = 0.64
"""Scale of a mark beside an answer."""
LINE = 0.48
"""Scale of the line an answer stands on."""
CROSS = 0.86
LEGS = 0.8
LEAST = 6.8
"""Smallest type."""

TITLE = Style(size=18, leading=24, weight=600)
KIND = Style(size=18, leading=24, colour="quiet")
DATE = Style(size=9.6, leading=14, weight=600)
RUNNING = Style(size=9.6, leading=14, weight=600)
RUNNING_DAY = Style(size=9.2, leading=14, colour="quiet")
BANNER = Style(size=8.2, leading=12, weight=600, colour="ink2")
SECTION = Style(size=7.2, leading=10, colour="quiet")
CAPTION = Style(size=7.6, leading=12, weight=600, colour="quiet")
PERSON = Style(size=10.5, leading=13, weight=600)
DETAIL = Style(size=9.2, leading=12)
HEADING = Style(size=9.2, leading=14, weight=600)
QUIET = Style(size=8.2, leading=12, colour="quiet")
ITEM = Style(size=9.2, leading=12)
ANSWER_PLAIN = Style(size=9.2, leading=12)
QUIET_ANSWER = Style(size=9.2, leading=12, colour="quiet")
ANSWER_STRONG = Style(size=9.2, leading=12, weight=600)
NOTE = Style(size=7.3, leading=9.6, colour="quiet")
TINY = Style(size=7.6, leading=10.4, colour="ink2")
COLUMN = Style(size=8.2, leading=12, weight=600, colour="ink2")
SYSTEM = Style(size=9.2, leading=12, colour="ink2")
STATE = Style(size=8.2, leading=9, colour="ink2")
STATE_STRONG = Style(size=8.2, leading=9, weight=600)
CROSS_STRONG = Style(size=8.2, leading=10.5, weight=600)
CROSS_PLAIN = Style(size=7.6, leading=10, colour="ink2")
FOOT_STRONG = Style(size=8.2, leading=11, weight=600)
FOOT_PLAIN = Style(size=8.2, leading=11, colour="ink2")
FOOT_QUIET = Style(size=7.6, leading=11, colour="quiet")

LETTER_HEADING = Style(size=9.2, leading=13.2, weight=600)
PATIENT_WIDTH = 410.0
