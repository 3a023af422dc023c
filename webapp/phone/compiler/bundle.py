"""The app's modules joined into one script, so that a phone fetches and starts one file.

The modules in static/js stay as they are read, and are served as they are too; this is for phones
only. Each becomes a closure that gives what it exports, in the order of their imports. Compressed
together they are a third smaller than apart.

The arithmetic comes without a closure: a script's `fold.standing` is `fold$standing` there, so that
only what some script names is taken, and a minifier can shorten all of it.

What comes of it is a script and not a module: browsers compile the scripts that a service worker
keeps once, when it keeps them, and do not do so for modules.
"""

import re
from collections.abc import Iterable, Mapping
from graphlib import TopologicalSorter
from posixpath import dirname, join, normpath

from webapp.phone.compiler.compile import scoped

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
# Where the compiled arithmetic is served, one object for each of its modules.
RECKON = "js/reckon.js"


class NotJoined(ValueError):
    """A module that imports or exports in a way that this cannot join; the text names the line."""


def joined(modules: Mapping[str, str], first: str, reckon: str = "") -> str:
    """One script of the modules that `first` needs, itself last, after the arithmetic's text.

    `modules` holds texts by path, as in `js/app.js`.
    """
    body = "".join(closure(name, modules[name]) for name in in_order(modules, first))
    return f"(() => {{\n'use strict';\n{reckon}{body}}})();\n"


def in_order(modules: Mapping[str, str], first: str) -> list[str]:
    """The paths of `first` and the modules that it needs, each after those that it imports."""
    needed = {first: needs(first, modules[first])}
    waiting = list(needed[first])
    while waiting:
        name = waiting.pop()
        if name not in needed:
            if name not in modules:
                raise NotJoined(f"{name} is imported and not there.")
            needed[name] = needs(name, modules[name])
            waiting += needed[name]
    return list(TopologicalSorter(needed).static_order())


def needs(name: str, text: str) -> list[str]:
    """The paths of the modules that one imports, without the arithmetic."""
    paths = [path_from(name, found["path"]) for found in IMPORT.finditer(text)]
    return [path for path in paths if path != RECKON]


def reckon_names(name: str, text: str) -> dict[str, str]:
    """The arithmetic's modules that a module imports, by what it calls them."""
    lists = [
        found["names"] or ""
        for found in IMPORT.finditer(text)
        if path_from(name, found["path"]) == RECKON
    ]
    pairs = [each.strip().partition(" as ") for listed in lists for each in listed.split(",")]
    return {called or own: own for own, _, called in pairs if own}


def asked_of_reckon(name: str, text: str) -> set[tuple[str, str]]:
    """What a module asks of the arithmetic: a module of that, and the name in it."""
    names = reckon_names(name, text)
    body = IMPORT.sub("", text)
    return {(names[found[1]], found[2]) for found in members(names).finditer(body)}


def members(names: Iterable[str]) -> re.Pattern[str]:
    """Matches a look into one of these objects, as in `fold.standing` or `...fold.ROUNDS`."""
    return re.compile(rf"(?<![\w$])(?<!(?<!\.\.)\.)({'|'.join(names) or '(?!)'})\s*\.\s*(\w+)")


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
    body = in_scope(reckon_names(name, text), body)
    left = LEFT.search(body)
    if left:
        raise NotJoined(f"{name} cannot be joined because of: {left[0]}")
    return f"const {variable(name)} = (() => {{\n{body}\nreturn {{{', '.join(exports)}}};\n}})();\n"


def in_scope(names: Mapping[str, str], body: str) -> str:
    """A module's text with the arithmetic's functions as they are called in the common scope.

    `names` are the objects that it has imported; NotJoined when it passes on a whole one.
    """
    body = members(names).sub(lambda found: scoped(names[found[1]], found[2]), body)
    whole = re.search(rf"[=(,]\s*({'|'.join(names) or '(?!)'})\s*[;,)[]", body)
    if whole:
        raise NotJoined(
            f"{whole[1]} is taken as a whole: write {whole[1]}. and what of it is meant."
        )
    return body


def given(listed: str) -> str:
    """One name of an export list as a property: `x` for `x`, `y: x` for `x as y`."""
    own, _, called = listed.strip().partition(" as ")
    return f"{called}: {own}" if called else own


def unpacked(name: str, found: re.Match[str]) -> str:
    """An import as a declaration that takes from the imported module's exports."""
    if path_from(name, found["path"]) == RECKON:
        return ""
    source = variable(path_from(name, found["path"]))
    if found["space"]:
        return f"const {found['space']} = {source};"
    return f"const {{{re.sub(r' as ', ': ', found['names'])}}} = {source};"
