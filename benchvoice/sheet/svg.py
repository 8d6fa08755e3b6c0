"""The few SVG elements that the pictures are made of, as escaped markup for inside an HTML page.

Positions are in user units with one decimal; they are drawn, never stored or compared, so that a float is enough.
"""

from collections.abc import Iterable

from markupsafe import Markup, escape

Value = str | int | float


def element(name: str, /, *children: Markup | str, **attributes: Value) -> Markup:
    """One element; `_` in an attribute's name stands for `-`, a trailing one is dropped (class_)."""
    written = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{escape(_text(value))}"' for key, value in attributes.items()
    )
    inside = Markup("").join(children)
    return Markup(f"<{name}{written}>{inside}</{name}>")  # every part is escaped above


def drawing(width: float, height: float, title: str, parts: Iterable[Markup], css: str) -> Markup:
    """A whole picture with a title for those who can't see it."""
    return element(
        "svg",
        element("title", title),
        *parts,
        class_=css,
        role="img",
        viewBox=f"0 0 {_text(width)} {_text(height)}",
        width=width,
        height=height,
    )


def line(x1: float, y1: float, x2: float, y2: float, css: str) -> Markup:
    return element("line", x1=x1, y1=y1, x2=x2, y2=y2, class_=css)


def rect(x: float, y: float, width: float, height: float, css: str) -> Markup:
    return element("rect", x=x, y=y, width=max(width, 0.1), height=height, class_=css)


def circle(x: float, y: float, radius: float, css: str) -> Markup:
    return element("circle", cx=x, cy=y, r=radius, class_=css)


def polygon(points: Iterable[tuple[float, float]], css: str) -> Markup:
    return element("polygon", points=" ".join(f"{_text(x)},{_text(y)}" for x, y in points), class_=css)


def text(x: float, y: float, words: str, css: str) -> Markup:
    return element("text", words, x=x, y=y, class_=css)


def _text(value: Value) -> str:
    return f"{value:.1f}".removesuffix(".0") if isinstance(value, float) else str(value)
