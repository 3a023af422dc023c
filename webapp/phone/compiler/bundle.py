"""The app's modules joined into one script, so that a phone fetches and starts one file.

The modules in static/js stay as they are read, and are served as they are too; this is for phones
only. Each becomes a closure that gives what it exports, in the order of their imports. Compressed
together they are a third smaller than apart.

What comes of it is a script and not a module: browsers compile the scripts that a service worker
keeps once, when it keeps them, and do not do so for modules.
"""

import re
from collections.abc import Mapping
from graphlib import TopologicalSorter
from posixpath import dirname, join, normpath

IMPORT = re.compile(
    r"^import\s+(?:\*\s+as\s+(?P<space>\w+)|\{(?P<names>[^}]*)\})\s+from\s+'(?P<path>[^']+)';$",
    re.M,
)
EXPORT = re.compile(r"^export (?=(?:async )?function |class |const )", re.M)
EXPORTED = re.compile(r"^export (?:async )?(?:function|class|const) (\w+)", re.M)
LISTED = re.compile(r"^export \{([^}]*)\};$", re.M)
# How a module, and how a script, is told where it was fetched.
MODULE_ADDRESS = "import.meta.url"
SCRIPT_ADDRESS = "document.currentScript.src"
LEFT = re.compile(r"^(?:import|export)\b.*$", re.M)


class NotJoined(ValueError):
    """A module that imports or exports in a way that this cannot join; the text names the line."""


def joined(modules: Mapping[str, str], first: str) -> str:
    """One script of the modules that `first` needs, itself last.

    `modules` holds texts by path, as in `js/app.js`.
    """
    needed = {first: needs(first, modules[first])}
    waiting = list(needed[first])
    while waiting:
        name = waiting.pop()
        if name not in needed:
            if name not in modules:
                raise NotJoined(f"{name} is imported and not there.")
            needed[name] = needs(name, modules[name])
            waiting += needed[name]
    order = TopologicalSorter(needed).static_order()
    body = "".join(closure(name, modules[name]) for name in order)
    return f"(() => {{\n'use strict';\n{body}}})();\n"


def needs(name: str, text: str) -> list[str]:
    """The paths of the modules that one imports."""
    return [path_from(name, found["path"]) for found in IMPORT.finditer(text)]


def taken_from(wanted: str, modules: Mapping[str, str]) -> set[str]:
    """The names that the modules import from the one at the path `wanted`."""
    lists = [
        found["names"] or ""
        for name, text in modules.items()
        for found in IMPORT.finditer(text)
        if path_from(name, found["path"]) == wanted
    ]
    names = [listed.partition(" as ")[0].strip() for each in lists for listed in each.split(",")]
    return set(filter(None, names))


def path_from(name: str, path: str) -> str:
    """Where an import in the module `name` leads."""
    return normpath(join(dirname(name), path))


def variable(name: str) -> str:
    """What holds a module's exports: `$js_parts_step` for js/parts/measure/step.js."""
    return "$" + re.sub(r"\W", "_", name.removesuffix(".js"))


def closure(name: str, text: str) -> str:
    """A module as a closure that gives its exports; NotJoined when its text cannot be one."""
    listed = [given(each) for found in LISTED.findall(text) for each in found.split(",")]
    exports = [*EXPORTED.findall(text), *filter(None, listed)]
    body = IMPORT.sub(lambda found: unpacked(name, found), text)
    body = EXPORT.sub("", LISTED.sub("", body)).replace(MODULE_ADDRESS, SCRIPT_ADDRESS)
    left = LEFT.search(body)
    if left:
        raise NotJoined(f"{name} cannot be joined because of: {left[0]}")
    return f"const {variable(name)} = (() => {{\n{body}\nreturn {{{', '.join(exports)}}};\n}})();\n"


def given(listed: str) -> str:
    """One name of an export list as a property: `x` for `x`, `y: x` for `x as y`."""
    own, _, called = listed.strip().partition(" as ")
    return f"{called}: {own}" if called else own


def unpacked(name: str, found: re.Match[str]) -> str:
    """An import as a declaration that takes from the imported module's exports."""
    source = variable(path_from(name, found["path"]))
    if found["space"]:
        return f"const {found['space']} = {source};"
    return f"const {{{re.sub(r' as ', ': ', found['names'])}}} = {source};"
