"""Pictures of a PDF's pages, made in a worker."""

import threading
from dataclasses import dataclass

ONE_AT_A_TIME = threading.Lock()
"""PDFium is not made for several threads: whoever reads pages holds this."""


@dataclass(frozen=True, kw_only=True)
class Picture:
    """One page as 32-bit pixels, blue first."""

    pixels: bytes
    width: int
    height: int
    stride: int
    page: int
    """From 0."""
    pages: int


def picture(pdf: bytes, *, page: int, width: int) -> Picture:
    """Draw a page `width` pixels wide; a page past the end is the last one."""
    import pypdfium2

    with ONE_AT_A_TIME:
        document = pypdfium2.PdfDocument(pdf)
        try:
            count = len(document)
            number = max(0, min(page, count - 1))
            held = document[number]
            drawn = held.render(scale=max(width, 1) / held.get_width(), prefer_bgrx=True)
            made = Picture(
                pixels=bytes(drawn.buffer),
                width=drawn.width,
                height=drawn.height,
                stride=drawn.stride,
                page=number,
                pages=count,
            )
            drawn.close()
            held.close()
        finally:
            document.close()
    return made
