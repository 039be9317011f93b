"""The only door to weasyprint: sheets to one tagged PDF, the same bytes for the same project."""

from __future__ import annotations

import contextlib
import gc
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

NEEDS = "apt-get install --no-install-recommends libpangoft2-1.0-0 libharfbuzz-subset0"


class Overflow(Exception):
    """A sheet that does not fit its page: a fault of the sheet's own parting, named so that it can be mended."""

    def __init__(self, slug: str, pages: int) -> None:
        super().__init__(f"sheet {slug} takes {pages} pages; a sheet is one page")


class Refused(Exception):
    """A sheet asked for a file outside templates/ or for something on a network."""

    def __init__(self, addresses: Sequence[str]) -> None:
        super().__init__(f"a sheet may not load {', '.join(addresses)}")


@dataclass(frozen=True, slots=True)
class Page:
    """A sheet as a whole HTML document. style: CSS of this sheet alone, "" for none."""

    slug: str
    document: str
    style: str = ""


def weasyprint_or_why() -> tuple[Any, str | None]:
    """The library, or None and one sentence that says what to install."""
    try:
        with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
            import weasyprint
    except OSError as fault:
        missing = str(fault).split(":")[0]
        return None, f"no PDF: {missing}. On Debian: {NEEDS}. The HTML pack was written."
    except ImportError as fault:
        return None, f"no PDF: {fault}. Install it with: pip install weasyprint. The HTML pack was written."
    return weasyprint, None


def write_pdf(weasyprint: Any, pages: Sequence[Page], css: str, root: Path, tight: str = "") -> bytes:
    """All pages as one PDF/UA-1 file. root: the only folder a sheet may load from.

    tight: rules for a sheet that is a little too full. Overflow where it fills more than one page even so, Refused
    where one asks for something outside `root`.
    """
    fetcher = _one_folder(weasyprint, root)
    try:
        data = _laid_out(weasyprint, pages, (css, tight), root, fetcher)
    except weasyprint.urls.FatalURLFetchingError as fault:
        raise Refused(fetcher.refused) from fault
    if fetcher.refused:  # inside a drawing a refusal is swallowed
        raise Refused(fetcher.refused)
    return data


def _laid_out(weasyprint: Any, pages: Sequence[Page], css: tuple[str, str], root: Path, fetcher: Any) -> bytes:
    usual, tight = css
    base = root.resolve().as_uri() + "/"
    with _no_gc():
        fonts = weasyprint.text.fonts.FontConfiguration()
        shared = weasyprint.CSS(string=usual, font_config=fonts, base_url=base, url_fetcher=fetcher)
        first, laid_out = None, []
        for page in pages:
            styles = [shared]
            if page.style:
                styles.append(weasyprint.CSS(string=page.style, font_config=fonts, base_url=base, url_fetcher=fetcher))
            html = weasyprint.HTML(string=page.document, base_url=base, url_fetcher=fetcher)
            document = html.render(font_config=fonts, stylesheets=styles, pdf_variant="pdf/ua-1")
            if len(document.pages) != 1:
                closer = weasyprint.CSS(string=tight, font_config=fonts, base_url=base, url_fetcher=fetcher)
                document = html.render(font_config=fonts, stylesheets=[*styles, closer], pdf_variant="pdf/ua-1")
            if len(document.pages) != 1:
                raise Overflow(page.slug, len(document.pages))
            first = first or document
            laid_out += document.pages
        if first is None:
            raise ValueError("a pack has at least one sheet")
        data: bytes = first.copy(laid_out).write_pdf(pdf_variant="pdf/ua-1", finisher=_page_labels)
    return data


def _page_labels(_document: Any, pdf: Any) -> None:
    """Lets a viewer name the pages "Sheet 4"."""
    import pydyf

    label = pydyf.Dictionary({"S": "/D", "P": pydyf.String("Sheet ")})
    pdf.catalog["PageLabels"] = pydyf.Dictionary({"Nums": pydyf.Array([0, label])})


def _one_folder(weasyprint: Any, root: Path) -> Any:
    """A fetcher that knows one folder and data addresses, and keeps a list of what it refused."""
    from weasyprint.urls import FatalURLFetchingError, URLFetcher

    inside = root.resolve()

    class OneFolder(URLFetcher):  # type: ignore[misc]
        def __init__(self) -> None:
            super().__init__(allowed_protocols={"file", "data"}, allow_redirects=False, timeout=1)
            self.refused: list[str] = []

        def fetch(self, url: str, headers: Any = None) -> Any:
            parts = urlsplit(url)
            here = parts.scheme == "file" and parts.netloc in ("", "localhost")
            if parts.scheme == "data" or (here and Path(unquote(parts.path)).resolve().is_relative_to(inside)):
                return super().fetch(url, headers)
            self.refused.append(url[:200])
            raise FatalURLFetchingError(f"a sheet may not load {url[:200]}")

    return OneFolder()


@contextlib.contextmanager
def _no_gc() -> Iterator[None]:
    """Layout makes many small records and drops few: without the collector it takes two thirds of the time."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()
