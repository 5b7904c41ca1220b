"""The first run on a strange machine: it works, or it says what to do."""

import ast
import subprocess
import sys

import pytest

from site_build import __main__, bootstrap
from site_build.project import REPOSITORY

FIRST_FILES = [REPOSITORY / "site_build" / name for name in ("__init__.py", "__main__.py", "bootstrap.py")]


@pytest.mark.parametrize("file", FIRST_FILES, ids=lambda file: file.name)
def test_first_files_need_nothing_installed_and_parse_on_an_old_python(file):
    tree = ast.parse(file.read_text("utf-8"), feature_version=(3, 7))

    imported = {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    imported |= {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) and node.module}
    tops = {name.split(".")[0] for name in imported}
    assert tops <= sys.stdlib_module_names | {"site_build"}


def test_the_launcher_of_the_packed_site_parses_on_an_old_python():
    ast.parse((REPOSITORY / "site_build" / "server.py").read_text("utf-8"), feature_version=(3, 8))


def test_an_old_python_is_refused_by_version():
    with pytest.raises(bootstrap.CannotStart, match=r"needs Python 3\.11 or newer; this is Python 3\.9"):
        bootstrap.check_python((3, 9))
    bootstrap.check_python((3, 11))


@pytest.fixture
def away(tmp_path, monkeypatch):
    """Point the installer at an empty folder."""
    here = tmp_path / "site_build"
    here.mkdir()
    (here / "requirements.txt").write_text("a==1\n")
    (here / "requirements-test.txt").write_text("b==1\n")
    (here / "package-lock.json").write_text("{}")
    folder = tmp_path / ".venv" / "bin"
    for name, value in {"ROOT": tmp_path, "HERE": here, "VENV": tmp_path / ".venv", "BIN": folder}.items():
        monkeypatch.setattr(bootstrap, name, value)
    monkeypatch.setattr(bootstrap, "PYTHON", folder / "python")
    ran = []
    monkeypatch.setattr(bootstrap, "run", lambda command, **_: ran.append(command))

    def fake_venv(folder, **_):
        (tmp_path / ".venv" / "bin").mkdir(parents=True)
        (tmp_path / ".venv" / "bin" / "python").touch()
        ran.append(["venv"])

    monkeypatch.setattr(bootstrap.venv, "create", fake_venv)
    return ran


def test_a_second_run_installs_nothing(away):
    bootstrap.install_python(bootstrap.BUILD)
    first = len(away)

    bootstrap.install_python(bootstrap.BUILD)

    assert first == 2
    assert len(away) == first


def test_tests_add_to_what_the_build_installed_and_both_are_remembered(away):
    for needs in (bootstrap.BUILD, bootstrap.TEST, bootstrap.BUILD, bootstrap.TEST):
        bootstrap.install_python(needs)

    assert sum(command[-1].endswith("requirements-test.txt") for command in away) == 1


def test_a_changed_pin_is_installed(away):
    bootstrap.install_python(bootstrap.BUILD)
    (bootstrap.HERE / "requirements.txt").write_text("a==2\n")

    bootstrap.install_python(bootstrap.BUILD)

    assert sum(command[-1].endswith("requirements.txt") for command in away) == 2


def test_browser_packages_with_tools_serve_a_build_too(away, monkeypatch):
    monkeypatch.setattr(bootstrap, "node_environment", lambda: {"PATH": ""})
    monkeypatch.setattr(bootstrap.shutil, "which", lambda name, path=None: name)
    (bootstrap.HERE / "node_modules").mkdir()

    for with_tools in (False, False, True, False, True):
        bootstrap.install_node(with_tools)

    assert away == [["npm", "ci", "--omit=dev"], ["npm", "ci"]]


def test_a_machine_without_venv_is_told_what_to_install(away, monkeypatch):
    def broken(folder, **_):
        raise subprocess.CalledProcessError(1, "ensurepip")

    monkeypatch.setattr(bootstrap.venv, "create", broken)

    with pytest.raises(bootstrap.CannotStart, match="apt install python3-venv"):
        bootstrap.install_python(bootstrap.BUILD)


def test_a_failed_download_is_told_with_the_end_of_its_output():
    with pytest.raises(bootstrap.CannotStart, match=r"(?s)no route.*needs the network"):
        bootstrap.run([sys.executable, "-c", "print('no route'); raise SystemExit(1)"])


def test_a_machine_without_node_gets_the_one_from_the_package_index(away, monkeypatch, tmp_path):
    monkeypatch.setenv("PATH", str(tmp_path))

    environment = bootstrap.node_environment()

    assert [command[-1] for command in away] == [bootstrap.NODE_WHEEL]
    assert environment["PATH"].startswith(str(bootstrap.BIN))


def test_help_names_every_command(capsys):
    assert __main__.main(["--help"]) == 0

    printed = capsys.readouterr().out
    assert all(f"  {name} " in printed for name in __main__.COMMANDS)


def test_an_unknown_command_is_refused(capsys):
    assert __main__.main(["bake"]) == 2

    assert "no command 'bake'" in capsys.readouterr().err


@pytest.mark.parametrize("name", sorted(__main__.COMMANDS))
def test_every_command_has_a_module_with_main(name):
    module = __import__(__main__.COMMANDS[name][0], fromlist=["main"])

    assert callable(module.main)


def test_every_package_is_pinned():
    for name in bootstrap.TEST:
        lines = [line for line in (REPOSITORY / "site_build" / name).read_text("utf-8").splitlines() if line[:1] != "#"]
        assert lines
        assert all("==" in line for line in lines)


def test_no_registry_stands_in_the_lock_file():
    assert "://" not in (REPOSITORY / "site_build" / "package-lock.json").read_text("utf-8")
