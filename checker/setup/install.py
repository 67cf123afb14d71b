"""Makes the virtual environment .venv and installs a lock into it: ``python3 checker/setup/install.py serve|test``.

This file alone runs under whatever Python the machine has, so that an old one gets a sentence and not a syntax error.
"""

import os
import subprocess
import sys

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
VENV = os.path.join(ROOT, ".venv")
PYTHON = os.path.join(VENV, "bin", "python")
# "test" holds everything that "serve" holds.
GIVES = {"serve": ["serve"], "test": ["serve", "test"]}


def main(lock):
    if sys.version_info < (3, 11):
        sys.exit(
            "Boardwright needs Python 3.11 or later, and this is %d.%d (%s).\n"
            "If there is a later one on this machine, name it: make PYTHON=python3.12 …" % (*sys.version_info[:2], sys.executable)
        )
    if not works(PYTHON):
        print("Making a virtual environment in .venv …", flush=True)
        if subprocess.call([sys.executable, "-m", "venv", "--clear", VENV]) != 0:
            sys.exit("This Python cannot make virtual environments. On Debian and Ubuntu: apt-get install python3-venv")
    print("Installing the Python packages of checker/setup/%s.lock into .venv …" % lock, flush=True)
    # A lock is whole, so that pip need not ask the packages what else they want; one wants more than is used of it (pyproject.toml).
    # What is never used need not be compiled: Python does that at the first use.
    pip("--no-compile", "--requirement", os.path.join(ROOT, "checker", "setup", lock + ".lock"), "--require-hashes", "--only-binary=:all:", "--no-deps")
    # The package itself, in place: an edit counts at once. What builds it comes from the lock.
    pip("--editable", ROOT, "--no-deps", "--no-build-isolation", "--no-index")
    for name in GIVES[lock]:
        with open(os.path.join(VENV, name + ".stamp"), "w"):
            pass


def works(python):
    return os.path.exists(python) and subprocess.call([python, "-c", "import pip"], stderr=subprocess.DEVNULL) == 0


def pip(*what):
    command = [PYTHON, "-m", "pip", "install", "-qq", "--disable-pip-version-check"]
    if subprocess.call(command + list(what)) != 0:
        sys.exit("Installing the Python packages failed; the lines above say why.")


if __name__ == "__main__":
    main(sys.argv[1])
