#!/bin/sh
# Builds Hangar as one folder that runs without an installed Python.
#   sh resources/package.sh    writes dist/hangar/ ; start dist/hangar/hangar
# What it needs is installed in build/packaging, apart from the folder .venv that tests run in.
set -eu
cd "$(dirname "$0")/.."
say() { printf '%s\n' "hangar: $*" >&2; }
stop() { say "$*"; exit 2; }

python=${HANGAR_PYTHON:-python3}
tools=build/packaging
[ -x "$tools/bin/python" ] || "$python" -m venv "$tools" ||
    stop "this Python cannot make a virtual environment; on Debian run: apt-get install python3-venv"
# PyInstaller takes Python's shared library along and reads what libraries need with objdump.
if [ "$(uname)" = Linux ]; then
    library=$("$tools/bin/python" -c 'import sysconfig; print(sysconfig.get_config_var("INSTSONAME"))')
    command -v objdump >/dev/null 2>&1 && "$tools/bin/python" -c "import ctypes; ctypes.CDLL('$library')" 2>/dev/null ||
        stop "packaging needs $library and objdump; on Debian run: apt-get install binutils ${library%.so*}"
fi
say "installing what the program and its packaging need"
"$tools/bin/python" -m pip install -q --disable-pip-version-check --upgrade \
    -c resources/tested-versions.txt ".[package]" || stop "the Python packages could not be installed."
"$tools/bin/python" -m pip install -q --disable-pip-version-check --no-deps --force-reinstall . ||
    stop "Hangar itself could not be installed."
say "building the folder"
# Safe path: the installed package is wanted, with its data files, not the checkout beside it.
PYTHONSAFEPATH=1 QT_QPA_PLATFORM=offscreen "$tools/bin/python" -m PyInstaller --noconfirm --log-level WARN \
    --workpath build/packaging-work --distpath dist resources/packaging/hangar.spec || stop "the build failed."
cp resources/packaging/hangar.desktop resources/packaging/hangar.xml resources/icons/hangar.svg \
    resources/licences.md resources/changelog.md dist/hangar/
dist/hangar/hangar --version
say "dist/hangar holds the program; resources/packaging/README.md says how to make it known to a desktop."
