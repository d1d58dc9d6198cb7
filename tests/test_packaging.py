# SPDX-License-Identifier: MIT
"""The two commands of the README: what they check, what they say, and when they install again."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tomllib
from importlib import metadata
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGING = ROOT / "packaging"
NEW_GLIB = "libglib2.0-0t64"

# Name and code name as the os-release files of these releases give them.
DEBIAN_12 = 'ID=debian\nVERSION_ID="12"\nVERSION_CODENAME=bookworm\n'
DEBIAN_13 = 'ID=debian\nVERSION_ID="13"\nVERSION_CODENAME=trixie\n'
UBUNTU_24 = "ID=ubuntu\nVERSION_CODENAME=noble\nUBUNTU_CODENAME=noble\n"
MINT_LIKE = "ID=other\nID_LIKE=ubuntu\nVERSION_CODENAME=own\nUBUNTU_CODENAME=jammy\n"


@pytest.fixture
def scripts(monkeypatch: pytest.MonkeyPatch) -> dict[str, ModuleType]:
    """Load the scripts the way Python does when one of them is started."""
    names = ("environment", "system_parts", "run", "test")
    monkeypatch.syspath_prepend(str(PACKAGING))
    for name in names:
        monkeypatch.delitem(sys.modules, name, raising=False)
    loaded = {name: __import__(name) for name in names}
    for name in names:
        monkeypatch.delitem(sys.modules, name)
    return loaded


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """Make a folder with the two files an installation depends on."""
    (tmp_path / "packaging").mkdir()
    (tmp_path / ".venv").mkdir()
    (tmp_path / "pyproject.toml").write_text("[project]\n", encoding="utf-8")
    (tmp_path / "packaging" / "constraints.txt").write_text("numpy==2.4.6\n", encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize(
    ("release", "package"),
    [
        (DEBIAN_12, "libglib2.0-0"),
        (DEBIAN_13, NEW_GLIB),
        (UBUNTU_24, NEW_GLIB),
        (MINT_LIKE, "libglib2.0-0"),
    ],
)
def test_a_missing_library_is_named_with_the_package_of_this_release(
    scripts: dict[str, ModuleType], tmp_path: Path, release: str, package: str
) -> None:
    parts = scripts["system_parts"]
    (tmp_path / "os-release").write_text(release, encoding="utf-8")
    facts = parts.release_facts(str(tmp_path / "os-release"))
    names = ["libglib-2.0.so.0", "libgthread-2.0.so.0", "libGL.so.1"]
    assert parts.packages_for(names, facts) == [package, "libgl1"]
    sentence = parts.missing_sentence(names, facts, True)
    assert "libglib-2.0.so.0" in sentence
    assert sentence.endswith(f"apt-get install -y {package} libgl1")


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="only Linux may lack them")
def test_only_libraries_that_do_not_load_count_as_missing(scripts: dict[str, ModuleType]) -> None:
    parts = scripts["system_parts"]
    lacking = {"libEGL.so.1", "libdbus-1.so.3"}
    found = parts.missing_libraries(parts.QT_LIBRARIES, load=lambda name: name not in lacking)
    assert set(found) == lacking
    assert parts.missing_libraries(["libc.so.6"]) == []
    assert parts.missing_libraries(["libnobody-has-this.so.9"]) == ["libnobody-has-this.so.9"]


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="ELF libraries")
def test_the_tables_name_all_that_the_installed_qt_asks_its_system_for(
    scripts: dict[str, ModuleType],
) -> None:
    """Against the sonames written in the Qt libraries themselves."""
    parts = scripts["system_parts"]
    known = {**parts.QT_LIBRARIES, **parts.XCB_LIBRARIES}
    files = metadata.files("PySide6-Essentials") or []
    names = ("libQt6Core.so.6", "libQt6Gui.so.6", "libQt6Widgets.so.6", "libQt6XcbQpa.so.6")
    libraries = [Path(str(f.locate())) for f in files if f.name in (*names, "libqxcb.so")]
    assert len(libraries) == 5
    asked: set[str] = set()
    for library in libraries:
        asked |= {
            s.decode() for s in re.findall(rb"\0(lib[\w.+-]+\.so\.\d+)(?=\0)", library.read_bytes())
        }
    # What comes with the listed packages or with every system, and what the wheel brings along.
    asked -= {s for s in asked if s.startswith(("libQt6", "libicu", "libstdc++", "libgcc_s"))}
    asked -= {
        "libc.so.6",
        "libm.so.6",
        "libz.so.1",
        "libzstd.so.1",
        "libpthread.so.0",
        "libdl.so.2",
    }
    asked -= {"libX11.so.6", "libxcb.so.1", "libxcb-render.so.0", "libxcb-shm.so.0"}
    asked -= {"libxcb-sync.so.1", "libbrotlidec.so.1", "libbrotlicommon.so.1", "librt.so.1"}
    assert asked - set(known) == set()


def test_without_a_screen_a_sentence_says_so(scripts: dict[str, ModuleType]) -> None:
    parts = scripts["system_parts"]
    if sys.platform.startswith("linux"):
        assert "no screen here" in parts.display_complaint({})
    for environ in ({"DISPLAY": ":0"}, {"WAYLAND_DISPLAY": "w"}, {"QT_QPA_PLATFORM": "offscreen"}):
        assert parts.display_complaint(environ) == ""


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="X displays")
def test_a_display_that_does_not_answer_is_named(
    scripts: dict[str, ModuleType], monkeypatch: pytest.MonkeyPatch
) -> None:
    parts = scripts["system_parts"]
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    assert parts.window_complaint(Path(sys.executable)) == ""
    if parts.missing_libraries(parts.XCB_LIBRARIES):
        pytest.skip("the X libraries are not installed")
    monkeypatch.setenv("QT_QPA_PLATFORM", "xcb")
    monkeypatch.setenv("DISPLAY", ":9731")
    assert "DISPLAY=:9731 does not answer" in parts.window_complaint(Path(sys.executable))


def test_an_old_python_is_told_what_is_needed(scripts: dict[str, ModuleType]) -> None:
    complaint = scripts["environment"].python_complaint
    assert "needs Python 3.11 or newer; this is Python 3.9" in complaint((3, 9))
    assert complaint((3, 11)) == ""
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    oldest = ".".join(map(str, scripts["environment"].OLDEST_PYTHON))
    assert declared["project"]["requires-python"] == f">={oldest}"


def test_a_python_without_its_venv_part_is_told_the_package(
    scripts: dict[str, ModuleType], monkeypatch: pytest.MonkeyPatch, project: Path
) -> None:
    environment = scripts["environment"]
    monkeypatch.setitem(sys.modules, "ensurepip", None)
    package = f"python{sys.version_info[0]}.{sys.version_info[1]}-venv"
    with pytest.raises(environment.SetUpError, match=f"install -y {re.escape(package)}"):
        environment.make_environment(project)


def test_a_changed_declaration_installs_again(
    scripts: dict[str, ModuleType], monkeypatch: pytest.MonkeyPatch, project: Path
) -> None:
    environment = scripts["environment"]
    installed: list[bool] = []
    monkeypatch.setattr(environment, "is_usable", lambda python: True)
    monkeypatch.setattr(environment, "install", lambda r, p, tests, again: installed.append(tests))

    def ensure(with_tests: bool) -> list[bool]:
        installed.clear()
        environment.ensure_environment(with_tests, "again", project)
        return list(installed)

    assert ensure(False) == [False]
    assert ensure(False) == []
    assert ensure(True) == [True]
    assert ensure(False) == [], "the tools of the tests are kept once they are there"
    (project / "pyproject.toml").write_text("[project]\nname = 'x'\n", encoding="utf-8")
    assert ensure(False) == [True]
    (project / "packaging" / "constraints.txt").write_text("numpy==2.4.7\n", encoding="utf-8")
    assert ensure(False) == [True]
    (project / ".venv" / "fitassist-stamp.json").write_text("{torn", encoding="utf-8")
    assert ensure(False) == [False]


def test_a_failed_installation_is_tried_again_next_time(
    scripts: dict[str, ModuleType], monkeypatch: pytest.MonkeyPatch, project: Path
) -> None:
    environment = scripts["environment"]
    monkeypatch.setattr(environment, "is_usable", lambda python: True)
    said = "error: Temporary failure in name resolution\nERROR: No matching distribution found"
    commands: list[list[str]] = []
    monkeypatch.setattr(
        environment, "run_pip", lambda c, log: (commands.append(c), (False, said))[1]
    )
    for _ in range(2):
        with pytest.raises(environment.SetUpError, match="cannot be reached") as caught:
            environment.ensure_environment(False, "python3 packaging/run.py", project)
        assert str(caught.value).endswith("python3 packaging/run.py")
    assert len(commands) == 2, "without a network other versions are not tried"


def test_a_folder_that_may_not_be_written_to_is_named(
    scripts: dict[str, ModuleType], monkeypatch: pytest.MonkeyPatch, project: Path
) -> None:
    environment = scripts["environment"]
    monkeypatch.setattr(environment, "is_usable", lambda python: True)

    def refuse(*_: object) -> None:
        raise PermissionError(13, "Permission denied", str(project / ".venv"))

    monkeypatch.setattr(environment, "run_pip", refuse)
    with pytest.raises(environment.SetUpError, match=r"Permission denied.*\n.*may be written to"):
        environment.ensure_environment(False, "again", project)


def test_versions_that_do_not_fit_give_way_to_the_newest_allowed(
    scripts: dict[str, ModuleType], monkeypatch: pytest.MonkeyPatch, project: Path
) -> None:
    environment = scripts["environment"]
    monkeypatch.setattr(environment, "is_usable", lambda python: True)
    commands: list[list[str]] = []

    def run_pip(command: list[str], log: Path) -> tuple[bool, str]:
        commands.append(command)
        return "--constraint" not in command, "ERROR: No matching distribution found for numpy"

    monkeypatch.setattr(environment, "run_pip", run_pip)
    environment.ensure_environment(False, "again", project)
    assert ["--constraint" in command for command in commands] == [True, False]


def test_what_pip_says_is_kept_and_its_failure_reported(
    scripts: dict[str, ModuleType], tmp_path: Path
) -> None:
    run_pip = scripts["environment"].run_pip
    code = "import sys; print('Collecting x (from y)'); print('no', file=sys.stderr); sys.exit(3)"
    done, text = run_pip([sys.executable, "-c", code], tmp_path / "log")
    assert not done
    assert "no" in text
    assert (tmp_path / "log").read_text(encoding="utf-8") == text


@pytest.mark.parametrize(
    ("given", "passed"),
    [
        ([], ["--demo"]),
        (["--"], []),
        (["--", "--profile", "here"], ["--profile", "here"]),
        (["--profile", "here"], None),
    ],
)
def test_arguments_after_two_dashes_go_to_the_program(
    scripts: dict[str, ModuleType], given: list[str], passed: list[str] | None
) -> None:
    assert scripts["run"].program_arguments(given) == passed


def test_a_stage_that_fails_fails_the_run_and_the_last_stage_still_runs(
    scripts: dict[str, ModuleType], tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    python = [sys.executable, "-c"]
    listed = [
        ("good", [*python, "pass"]),
        ("bad", [*python, "raise SystemExit(2)"]),
        ("last", [*python, "print('closing line')"]),
    ]
    assert scripts["test"].run_stages(listed, tmp_path) == ["bad"]
    out, err = capfd.readouterr()
    assert "FAILED" in out
    assert out.rstrip().endswith("closing line")
    assert err.rstrip().endswith("Failed: bad")


def test_the_last_stage_is_pytest_on_all_cores(scripts: dict[str, ModuleType]) -> None:
    name, command = scripts["test"].stages(Path("py"), 2, [])[-1]
    assert name.startswith("pytest")
    assert command == ["py", "-m", "pytest", "-n", "2"]
    _, command = scripts["test"].stages(Path("py"), 1, ["-k", "x"])[-1]
    assert command == ["py", "-m", "pytest", "-k", "x"]


@pytest.mark.parametrize("script", ["run.py", "test.py"])
def test_each_script_explains_itself(script: str) -> None:
    said = subprocess.run(
        [sys.executable, str(PACKAGING / script), "--help"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert said.stdout.startswith(f"usage: python3 packaging/{script}")
    wrong = subprocess.run(
        [sys.executable, str(PACKAGING / script), "nonsense"], capture_output=True, check=False
    )
    assert wrong.returncode == 2


def test_the_tested_versions_are_plain_and_cover_what_is_declared() -> None:
    lines = (PACKAGING / "constraints.txt").read_text(encoding="utf-8").splitlines()
    assert all(re.fullmatch(r"[A-Za-z0-9._-]+==[0-9][0-9A-Za-z.]*", line) for line in lines)

    def plain(name: str) -> str:
        return re.sub(r"[-_.]+", "-", name).lower()

    tested = {plain(line.split("==")[0]) for line in lines}
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = declared["dependencies"] + declared["optional-dependencies"]["test"]
    names = {plain(re.split(r"[<>=!~; \[]", need)[0]) for need in wanted}
    assert names - tested == set()


def test_no_folder_of_ours_hides_the_package_of_the_same_name() -> None:
    """Pytest itself needs the library called packaging; our folder is not a package."""
    assert not (PACKAGING / "__init__.py").exists()
    code = "from packaging.version import Version; print(Version('1.0') < Version('1.1'))"
    said = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT
    )
    assert said.stdout.strip() == "True"


@pytest.mark.skipif(os.name == "nt", reason="a shell script")
def test_the_run_on_a_new_machine_is_what_the_readme_says() -> None:
    run = ROOT / ".ci" / "run"
    assert os.access(run, os.X_OK)
    assert "python3 packaging/test.py" in run.read_text(encoding="utf-8")
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert "python3 packaging/run.py" in readme
    assert "python3 packaging/test.py" in readme


@pytest.mark.skipif(os.name == "nt", reason="a shell script")
def test_the_run_on_a_new_machine_brings_every_package_the_scripts_name(
    scripts: dict[str, ModuleType],
) -> None:
    parts = scripts["system_parts"]
    text = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    tables = (parts.QT_LIBRARIES, parts.XCB_LIBRARIES, parts.SCREEN_PROGRAMS)
    packages = {package for table in tables for package in table.values()}
    assert {
        package for package in packages if not re.search(rf"\b{re.escape(package)}\b", text)
    } == set()
