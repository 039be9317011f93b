"""The only door to weasyprint: sheets to one tagged PDF, the same bytes for the same project."""

from __future__ import annotations

import contextlib
import gc
import io
from collections.abc import Iterable, Iterator, Sequence
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
    """A sheet as a whole HTML document. style: CSS of this sheet alone, "" for none.

    common: what follows the head, where many sheets have it alike: it is laid out once. `document` is then without it,
    with COMMON in its place; `whole` has all.
    """

    slug: str
    document: str
    style: str = ""
    common: str = ""

    @property
    def whole(self) -> str:
        return self.document.replace(COMMON, self.common) if self.common else self.document


COMMON = "<!--common-->"


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


def write_pdf(weasyprint: Any, pages: Iterable[Page], css: str, root: Path, tight: str = "") -> bytes:
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


def _laid_out(weasyprint: Any, pages: Iterable[Page], css: tuple[str, str], root: Path, fetcher: Any) -> bytes:
    usual, tight = css
    base = root.resolve().as_uri() + "/"
    with _no_gc():
        fonts = weasyprint.text.fonts.FontConfiguration()
        shared = weasyprint.CSS(string=usual, font_config=fonts, base_url=base, url_fetcher=fetcher)
        first, laid_out = None, []
        commons: dict[str, Any] = {}
        for page in pages:
            styles = [shared]
            if page.style:
                styles.append(weasyprint.CSS(string=page.style, font_config=fonts, base_url=base, url_fetcher=fetcher))
            whole = page.whole if page.common not in commons else page.document
            html = weasyprint.HTML(string=whole, base_url=base, url_fetcher=fetcher)
            document = html.render(font_config=fonts, stylesheets=styles, pdf_variant="pdf/ua-1")
            if len(document.pages) != 1:
                closer = weasyprint.CSS(string=tight, font_config=fonts, base_url=base, url_fetcher=fetcher)
                document = html.render(font_config=fonts, stylesheets=[*styles, closer], pdf_variant="pdf/ua-1")
            if len(document.pages) != 1:
                raise Overflow(page.slug, len(document.pages))
            first = first or document
            if page.common:
                body = commons.setdefault(page.common, document.pages[0])
                laid_out.append(body if body is document.pages[0] else _joined(document.pages[0], body))
            else:
                laid_out += document.pages
        if first is None:
            raise ValueError("a pack has at least one sheet")
        data: bytes = first.copy(laid_out).write_pdf(pdf_variant="pdf/ua-1", finisher=_page_labels)
    return data


def _joined(bare: Any, body: Any) -> Any:
    """A page with the head, foot and anchors of `bare` and, below its head, what stands in `body` below its own."""

    def main_of(page_box: Any) -> list[Any]:
        path = [page_box]
        while path[-1].element_tag != "main":
            path.append(path[-1].children[0])
        return path

    *outer, main = main_of(bare._page_box)
    other = main_of(body._page_box)[-1]
    made = main.copy_with_children([main.children[0], *other.children[1:]])
    for box in reversed(outer):
        made = box.copy_with_children([made, *box.children[1:]])
    return type(bare)(made)


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
