# SPDX-License-Identifier: MIT
"""Build the program as a folder that needs no Python: ``python packaging/freeze.py``.

It lies in ``dist/fitassist`` then, packed beside it, on Linux as a Debian package too. Before it is
packed it is started: its version, a scripted fitting, and its window on a screen that is not there.
Needs the project's environment with ``pip install -e .[freeze]``; takes a minute or two.
"""

from __future__ import annotations

import json
import os
import plistlib
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))
sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from freeze_package import add_desktop_files, add_licences, make_deb, pack, prune
from freeze_recipes import NAME, ROOT, WINDOWS_REGISTRY, Recipe, icns, ico, recipe_for

MOST_PACKED_MB = 170
MOST_START_RATIO = 2.0
TIMES = 5
FORM = ROOT / "resources" / "forms" / "four_parts_whole_height.json"
BODY = {"name": "Example", "targets": [{"line": "bust", "value": "35 1/2", "unit": "in"}]}
LOOK_S = 0.01
PATIENCE_S = 120.0


def build(recipe: Recipe, work: Path, target: Path) -> Path:
    """Run PyInstaller; return the folder (on macOS, the bundle)."""
    made = work / "icons"
    made.mkdir(parents=True, exist_ok=True)
    png = (ROOT / "resources" / "icon" / "fitassist.png").read_bytes()
    (made / "fitassist.ico").write_bytes(ico(png))
    (made / "fitassist.icns").write_bytes(icns(png))
    places = ["--distpath", str(target), "--workpath", str(work), "--specpath", str(work)]
    command = [sys.executable, "-m", "PyInstaller", *places, "--log-level", "WARN"]
    subprocess.run([*command, *recipe.arguments], check=True, cwd=work)
    folder = target / (f"{NAME}.app" if recipe.system == "darwin" else NAME)
    if recipe.plist:
        path = folder / "Contents" / "Info.plist"
        facts = plistlib.loads(path.read_bytes()) | recipe.plist
        path.write_bytes(plistlib.dumps(facts))
    return folder


def say_version(command: list[str]) -> str:
    """Return what the program says its version is."""
    return subprocess.run(
        [*command, "--version"], capture_output=True, text=True, check=True, timeout=60
    ).stdout.strip()


def scripted_fitting(command: list[str]) -> list[dict[str, object]]:
    """Answer a scripted fitting as the form would; return what the program said, line by line."""
    with tempfile.TemporaryDirectory() as folder:
        body = Path(folder) / "body.json"
        body.write_text(
            json.dumps({"format": "fitassist-body", "version": 1, **BODY}), encoding="utf-8"
        )
        program = subprocess.Popen(
            [*command, "--scripted", "--form", str(FORM), "--body", str(body)],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, encoding="utf-8",
        )  # fmt: skip
        assert program.stdin is not None
        assert program.stdout is not None
        said = []
        for line in program.stdout:
            told = json.loads(line)
            said.append(told)
            answer: dict[str, object] | None = None
            if told["kind"] == "set":
                answer = {"to": told["id"], "answer": "done"}
            elif told["kind"] == "measure":
                answer = {"to": told["id"], "answer": "reading", "value": told["target_mm"]}
            elif told["kind"] == "ask":
                answer = {"to": told["id"], "answer": "choose", "choice": told["choices"][0]}
            if answer is not None:
                program.stdin.write(json.dumps(answer) + "\n")
                program.stdin.flush()
            if told["kind"] == "done":
                break
        program.stdin.close()
        program.wait(timeout=60)
    return said


def start_s(command: list[str]) -> float:
    """Return the median time from starting the program to the first paint of its window."""
    taken = [_one_start_s(command) for _ in range(TIMES + 1)]
    return statistics.median(taken[1:])  # the first one fills the cache of the disk


def _one_start_s(command: list[str]) -> float:
    """Start the program on a folder of its own and wait until its log tells of the first paint."""
    environ = dict(os.environ)
    environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    with tempfile.TemporaryDirectory() as folder:
        profile = Path(folder) / "profile"
        shutil.copytree(ROOT / "resources" / "demo", profile)
        log = profile / "log" / "fitassist.log"
        began = time.perf_counter()
        program = subprocess.Popen([*command, "--profile", str(profile)], env=environ)
        while not (log.exists() and "painted" in log.read_text(encoding="utf-8")):
            if program.poll() is not None or time.perf_counter() - began > PATIENCE_S:
                program.kill()
                raise SystemExit("the window never painted itself")
            time.sleep(LOOK_S)
        taken = time.perf_counter() - began
        program.terminate()
        program.wait(timeout=60)
    return taken


def check(command: list[str]) -> dict[str, object]:
    """Start the frozen program in every way; return what was seen, or raise."""
    version = say_version(command)
    said = scripted_fitting(command)
    if said[-1]["kind"] != "done" or said[-1]["verdict"] != "good_enough":
        raise SystemExit(f"the scripted fitting did not end well: {said[-1]}")
    frozen, source = start_s(command), start_s([sys.executable, "-m", "fitassist"])
    if frozen > MOST_START_RATIO * source:
        raise SystemExit(f"it starts too slowly: {frozen:.2f} s, from source {source:.2f} s")
    return {
        "version": version,
        "lines_of_the_scripted_fitting": len(said),
        "start_s": round(frozen, 2),
        "start_from_source_s": round(source, 2),
    }


def size_mb(folder: Path) -> float:
    """Return the size of a folder in MB of 10^6 bytes."""
    sizes = (path.lstat().st_size for path in folder.rglob("*") if path.is_file())
    return round(sum(sizes) / 1e6, 1)


def main(arguments: list[str]) -> int:
    """Build, check and pack; return the exit code."""
    if arguments:
        print(__doc__)
        return 2
    from fitassist import __version__

    target, work = ROOT / "dist", ROOT / "build" / "frozen"
    recipe = recipe_for(
        "linux" if sys.platform.startswith("linux") else sys.platform, work / "icons"
    )
    if not recipe.is_tried:
        print(f"The recipe for {recipe.system} has never been tried; please say how it went.")
    shutil.rmtree(target / NAME, ignore_errors=True)
    began = time.monotonic()
    folder = build(recipe, work, target)
    prune(folder, recipe)
    without = add_licences(folder if recipe.system != "darwin" else folder / "Contents")
    add_desktop_files(folder, recipe.system, WINDOWS_REGISTRY)
    facts: dict[str, object] = {"build_s": round(time.monotonic() - began)}
    facts |= check([str(target / NAME / recipe.program)]
                   if recipe.system != "darwin" else [str(target / recipe.program)])  # fmt: skip
    facts["folder_mb"] = size_mb(folder)
    packed = target / f"{NAME}-{__version__}-{recipe.system}{recipe.packed}"
    facts["packed_mb"] = round(pack(folder, packed) / 1e6, 1)
    if recipe.system == "linux":
        deb = make_deb(folder, target / f"{NAME}_{__version__}.deb", __version__, work / "deb")
        facts["deb_mb"] = round(deb / 1e6, 1) if deb is not None else None
    facts["without_a_licence_file"] = without
    print(json.dumps(facts, indent=1))
    too_large = float(str(facts["packed_mb"])) > MOST_PACKED_MB
    return 1 if too_large else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
