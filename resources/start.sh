#!/bin/sh
# Sets up Hangar on a fresh machine and does one thing with it.
#   sh resources/start.sh demo    open the demo fleet in a window
#   sh resources/start.sh test    check everything: layout, types, pictures of every screen, tests
#   sh resources/start.sh hangar ARGUMENTS    any other command of Hangar
# It makes .venv in this folder and installs the tested versions there. On Debian and
# Ubuntu it also installs the system libraries that Qt needs, when it may; elsewhere, or
# without the right, it says in one sentence which command does it.
set -eu
cd "$(dirname "$0")/.."
what=${1:-demo}
[ $# -gt 0 ] && shift

say() { printf '%s\n' "hangar: $*" >&2; }
stop() { say "$*"; exit 2; }

python=
for name in ${HANGAR_PYTHON:-} python3.13 python3.12 python3.11 python3 python; do
    if command -v "$name" >/dev/null 2>&1 &&
        "$name" -c 'import sys; sys.exit(not ((3, 11) <= sys.version_info < (3, 15)))' 2>/dev/null; then
        python=$name
        break
    fi
done
[ -n "$python" ] || stop "needs Python 3.11 to 3.14; install it and call this again."

screen_libraries="libegl1 libgl1 libxkbcommon0 libfontconfig1 libdbus-1-3 fonts-dejavu-core \
xvfb xauth libxcb-cursor0 libxcb-icccm4 libxcb-image0 libxcb-keysyms1 libxcb-randr0 \
libxcb-render-util0 libxcb-shape0 libxcb-xkb1 libxkbcommon-x11-0 libx11-xcb1"
judges="poppler-utils ngspice xfoil gcc libc6-dev"
servers="postgresql strace"
browser="chromium chromium-driver"

apt_install() {
    if [ "$(id -u)" = 0 ]; then root=; elif sudo -n true 2>/dev/null; then root="sudo -n"; else return 1; fi
    command -v apt-get >/dev/null 2>&1 || return 1
    # Debian 13 and Ubuntu 24.04 call GLib by another name than the releases before them.
    # shellcheck disable=SC2086
    {
        $root apt-get update -q &&
            if apt-cache show libglib2.0-0t64 >/dev/null 2>&1; then glib=libglib2.0-0t64; else glib=libglib2.0-0; fi &&
            DEBIAN_FRONTEND=noninteractive $root apt-get install -y -q --no-install-recommends "$glib" "$@"
    } >.venv/system-packages.log 2>&1
}

if [ ! -x .venv/bin/python ]; then
    mkdir -p .venv
    if ! "$python" -m venv .venv >.venv/venv.log 2>&1; then
        apt_install python3-venv && "$python" -m venv .venv ||
            stop "this Python cannot make a virtual environment; on Debian run: apt-get install python3-venv"
    fi
fi

wanted=
[ "$what" = test ] && wanted="[test,server]" || wanted=""
stamp=".venv/set-up-$what"
if [ ! -f "$stamp" ] || [ pyproject.toml -nt "$stamp" ] || [ resources/tested-versions.txt -nt "$stamp" ]; then
    say "setting up, once; this takes about a minute"
    .venv/bin/python -m pip install -q --disable-pip-version-check \
        -c resources/tested-versions.txt -e ".$wanted" || stop "the Python packages could not be installed."
    touch "$stamp"
fi

# Asks the platform that will be used: a real screen needs more libraries than none.
qt_starts() {
    if [ "$what" = test ] || [ -z "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ]; then platform=offscreen; else platform=${QT_QPA_PLATFORM:-}; fi
    trouble=$(QT_QPA_PLATFORM=$platform .venv/bin/python -m hangar.window.screen 2>&1)
}
if [ "$(uname)" = Linux ]; then
    if [ "$what" = test ] && ! command -v ngspice >/dev/null 2>&1; then
        # shellcheck disable=SC2086
        apt_install $judges || say "the outside judges ngspice and XFOIL are not installed; their checks are skipped."
    fi
    if [ "$what" = test ] && ! { ls /usr/lib/postgresql/*/bin/initdb && command -v strace; } >/dev/null 2>&1; then
        # shellcheck disable=SC2086
        apt_install $servers || say "PostgreSQL or strace is not installed; the tests of a club's server or of power cuts are skipped."
    fi
    if [ "$what" = test ] && ! command -v chromedriver >/dev/null 2>&1; then
        # shellcheck disable=SC2086
        apt_install $browser || say "Chromium is not installed; the page for a phone is not tried in a browser."
    fi
    # The tests open a window on a screen of their own too, whatever they are run on.
    if [ "$what" = test ]; then
        trouble=$(QT_QPA_PLATFORM=xcb .venv/bin/python -m hangar.window.screen 2>&1) || case $trouble in
        # shellcheck disable=SC2086
        *"is missing"*) apt_install $screen_libraries || say "what a real screen needs is not installed; its tests are skipped." ;;
        esac
    fi
    if ! qt_starts; then
        # shellcheck disable=SC2086
        case $trouble in *"is missing"*) apt_install $screen_libraries || : ;; esac
        qt_starts || case $trouble in
            *"is missing"*) stop "$trouble All that Qt needs: $screen_libraries" ;;
            *) stop "$trouble" ;;
        esac
    fi
fi

case $what in
demo)
    if [ "$(uname)" = Linux ] && [ -z "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ]; then
        say "no screen here, so the findings of the demo fleet are printed instead of a window."
        .venv/bin/hangar inspect demo_fleet && exit 0 || { [ $? = 1 ] && exit 0; exit 2; }
    fi
    exec .venv/bin/hangar demo_fleet
    ;;
test)
    .venv/bin/ruff check .
    .venv/bin/ruff format --check .
    export QT_QPA_PLATFORM="${QT_QPA_PLATFORM:-offscreen}"
    # The pictures wait for the window more than they work, so they are drawn beside the types and the tests.
    .venv/bin/python -m tests.pictures build/pictures --fewer &
    pictures=$!
    trap 'kill "$pictures" 2>/dev/null || :' EXIT
    trap 'exit 130' INT
    trap 'exit 143' TERM
    .venv/bin/mypy
    # A process for each core; what is given here last holds, so -n 0 runs them one by one.
    code=0
    .venv/bin/python -m pytest -n auto --dist worksteal "$@" || code=$?
    wait "$pictures" || { say "the pictures showed a fault."; [ "$code" != 0 ] || code=1; }
    trap - EXIT INT TERM
    exit "$code"
    ;;
hangar) exec .venv/bin/hangar "$@" ;;
*) stop "knows demo, test and hangar; found '$what'." ;;
esac
