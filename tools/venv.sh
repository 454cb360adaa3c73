#!/bin/sh
# Make the virtual environment in the folder $1 and install the program and its tests into it.
# PYTHON may name the interpreter; else the newest one found that is 3.11 or later is taken.
set -eu

folder=$1
new_enough='import sys; sys.exit(sys.version_info < (3, 11))'

python=${PYTHON:-}
if [ -z "$python" ]; then
    for candidate in python3 python3.14 python3.13 python3.12 python3.11; do
        if command -v "$candidate" >/dev/null 2>&1 && "$candidate" -c "$new_enough" 2>/dev/null; then
            python=$candidate
            break
        fi
    done
fi
if [ -z "$python" ] || ! "$python" -c "$new_enough"; then
    echo "Python 3.11 or later is needed, and none was found. On Debian: apt-get install python3" >&2
    exit 1
fi

# Debian keeps the module that puts pip into an environment in a package of its own.
if ! "$python" -c 'import ensurepip, venv' 2>/dev/null; then
    version=$("$python" -c 'import sys; print("%d.%d" % sys.version_info[:2])')
    if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
        echo "== installing the package python$version-venv"
        export DEBIAN_FRONTEND=noninteractive
        apt-get update -qq
        apt-get install -y -qq "python$version-venv" >/dev/null
    else
        echo "Python cannot make virtual environments here. On Debian:" >&2
        echo "    sudo apt-get install python$version-venv" >&2
        exit 1
    fi
fi

if [ ! -x "$folder/bin/python" ]; then
    echo "== making a virtual environment in $folder with $("$python" --version)"
    "$python" -m venv "$folder"
fi
# A folder that pip cannot write to (a home that is read-only) would only earn a warning.
if [ ! -w "${HOME:-/nonexistent}" ]; then
    export PIP_NO_CACHE_DIR=1
fi
echo "== installing the program, its libraries and its test tools (some minutes the first time)"
"$folder/bin/python" -m pip install --quiet --use-pep517 -e '.[test]'
