"""The virtual environment of the libraries that ours are compared with."""

import hashlib
import os
import subprocess
import sys
import venv
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent


def target():
    """The folder that cargo builds into."""
    return Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target")).resolve()


def environment():
    """The Python of a virtual environment that holds what requirements.txt pins, made where it is
    not there yet or the pins have changed."""
    folder = target() / "second-opinion"
    pins = (HERE / "requirements.txt").read_bytes()
    stamp, wanted = folder / "installed", hashlib.sha256(pins).hexdigest()
    python = folder / "bin" / "python"
    if not (stamp.exists() and stamp.read_text() == wanted and python.exists()):
        if sys.version_info < (3, 11):
            raise OSError(f"found Python {sys.version.split()[0]}, expected 3.11 or later")
        print("installing the libraries of the second opinion …", file=sys.stderr)
        try:
            venv.create(folder, with_pip=True, clear=True)
        except subprocess.CalledProcessError as error:
            raise OSError("found no ensurepip; on Debian and Ubuntu install python3-venv") from error
        pip = [str(python), "-m", "pip"]
        # Nothing but what is pinned: what others bring stands there, too.
        pinned = ["--no-deps", "--requirement", str(HERE / "requirements.txt")]
        subprocess.run([*pip, "install", "--quiet", *pinned], check=True)
        subprocess.run([*pip, "check"], check=True, stdout=sys.stderr)
        stamp.write_text(wanted)
    return python
