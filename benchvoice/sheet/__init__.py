"""The page for people: a build's record as one self-contained HTML file, made from its log and its procedure alone.

`gather` works out what the page shows (pure), `pictures`, `maps` and `bars` draw, `page` fills the template.
"""

from benchvoice.sheet.page import write_record

__all__ = ["write_record"]
