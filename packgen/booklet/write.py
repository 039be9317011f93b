"""Writes a pack's folder: beside the old one first, then put in its place, whole or not at all."""

from __future__ import annotations

import json
import shutil
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path

from packgen.booklet.pack import Pack, Written
from packgen.booklet.paper import pages_of
from packgen.booklet.pdf import weasyprint_or_why, write_pdf
from packgen.booklet.screen import index_page, pack_page
from packgen.booklet.templates import style, templates_folder


def write_folder(packs: Sequence[Pack], folder: Path, pdf: bool) -> Written:
    """Writes all files of one plan's packs. The folder's old content goes only when the new is complete."""
    files: dict[str, bytes] = {}
    why = None
    if pdf:
        weasyprint, why = weasyprint_or_why()
        if weasyprint is not None:
            css = style("sheet.css") + style("print.css")
            for pack in packs:
                data = write_pdf(weasyprint, pages_of(pack), css, templates_folder(), style("tight.css"))
                files[f"{pack.stem}.pdf"] = data
    files |= text_files(packs, with_pdf=bool(files))
    return Written(replace_folder(folder, files), why)


def text_files(packs: Sequence[Pack], with_pdf: bool) -> dict[str, bytes]:
    """Every file but the PDFs: start page, the sheets of each pack as one page, plan as data, tables."""
    first = packs[0]
    texts = {
        "index.html": index_page(packs, with_pdf),
        **{f"{pack.stem}.html": pack_page(pack) for pack in packs},
        "plan.json": json.dumps(first.data, indent=1, ensure_ascii=False) + "\n",
        **first.tables,
    }
    return {name: text.encode("utf-8") for name, text in texts.items()}


def replace_folder(folder: Path, files: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Puts a folder of these files (names may hold a subfolder) in the place of the old one, whole or not at all."""
    folder.parent.mkdir(parents=True, exist_ok=True)
    fresh = Path(tempfile.mkdtemp(prefix=f".{folder.name}-", dir=folder.parent))
    try:
        for name, data in files.items():
            (fresh / name).parent.mkdir(parents=True, exist_ok=True)
            (fresh / name).write_bytes(data)
        fresh.chmod(0o755)
        old = fresh.with_name(fresh.name + "-old")
        if folder.exists():
            folder.rename(old)
        try:
            fresh.rename(folder)
        except OSError:
            if old.exists():
                old.rename(folder)
            raise
        shutil.rmtree(old, ignore_errors=True)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)
    return tuple(folder / name for name in sorted(files))
