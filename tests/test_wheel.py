"""The wheel holds all that a pack needs, away from the checkout."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

TOP = Path(__file__).parent.parent


@pytest.mark.slow
def test_a_pack_is_built_from_the_installed_wheel_alone(tmp_path: Path) -> None:
    pytest.importorskip("hatchling", reason="pip install hatchling")
    quiet = {**os.environ, "PIP_DISABLE_PIP_VERSION_CHECK": "1"}
    make = ["-m", "pip", "wheel", "-q", "--no-deps", "--no-build-isolation", "-w", str(tmp_path), str(TOP)]
    subprocess.run([sys.executable, *make], check=True, env=quiet)
    (wheel,) = tmp_path.glob("packgen-*.whl")
    target = tmp_path / "installed"
    put = ["-m", "pip", "install", "-q", "--no-deps", "--no-index", "--target", str(target), str(wheel)]
    subprocess.run([sys.executable, *put], check=True, env=quiet)
    code = (
        "import sys, pathlib, packgen\nfrom packgen.cli import main\n"
        "assert pathlib.Path(packgen.__file__).is_relative_to(sys.argv[1])\n"
        "sys.exit(main(['build', sys.argv[2], '--out', sys.argv[3]]))"
    )
    project = TOP / "projects" / "07-school-exercise-bay.yaml"
    ran = subprocess.run(
        [sys.executable, "-c", code, str(target), str(project), str(tmp_path / "out")],
        cwd=tmp_path,
        env={**quiet, "PYTHONPATH": str(target)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode in (0, 1), ran.stdout + ran.stderr
    assert (tmp_path / "out" / "07-school-exercise-bay" / "pack.pdf").stat().st_size > 20_000
