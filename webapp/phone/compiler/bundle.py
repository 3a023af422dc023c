"""The app's modules joined into one script, so that a phone fetches and starts one file.

The modules in static/js stay as they are read, and are served as they are too; this is for phones
only. Each becomes a closure, in the order of their imports. What it exports is known around all of
them, so that those that import it just use it, and a minifier can shorten its name. Compressed
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
    order = in_order(modules, first)
    known = shared({name: modules[name] for name in order})
    body = "".join(closure(name, modules[name], known) for name in order)
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


Shared = Mapping[str, Mapping[str, str]]


def shared(modules: Mapping[str, str]) -> Shared:
    """What each module's exports are called around all closures, by module and exported name.

    By their own names, but where another module has the same word for something else.
    """
    exports = {name: exported(name, text) for name, text in modules.items()}
    taken = {name: imported(name, text) for name, text in modules.items()}
    words = {
        name: set(re.findall(r"[\w$]+", IMPORT.sub("", text))) for name, text in modules.items()
    }

    def called(name: str, export: str) -> str:
        others = [each for each in modules if each != name and (name, export) not in taken[each]]
        clear = not any(export in words[each] | set(exports[each]) for each in others)
        renamed = any(each.get((name, export), export) != export for each in taken.values())
        own = exports[name][export] == export
        return export if clear and own and not renamed else f"{variable(name)}${export}"

    return {name: {each: called(name, each) for each in exports[name]} for name in modules}


def exported(name: str, text: str) -> dict[str, str]:
    """What a module exports: by exported name, what it is called in the module."""
    listed = [each for found in LISTED.findall(text) for each in found.split(",")]
    pairs = [each.strip().partition(" as ") for each in listed]
    found = {name: name for name in EXPORTED.findall(text)}
    return found | {called or own: own for own, _, called in pairs if own}


def imported(name: str, text: str) -> dict[tuple[str, str], str]:
    """What a module imports by name: by module and name, what it calls it."""
    found: dict[tuple[str, str], str] = {}
    for line in IMPORT.finditer(text):
        path = path_from(name, line["path"])
        pairs = [each.strip().partition(" as ") for each in (line["names"] or "").split(",")]
        found |= {(path, own): called or own for own, _, called in pairs if own}
    return found


def variable(name: str) -> str:
    """How a module is named in names: `$js_parts_step` for js/parts/step.js."""
    return "$" + re.sub(r"\W", "_", name.removesuffix(".js"))


def closure(name: str, text: str, known: Shared) -> str:
    """A module as a closure that gives its exports; NotJoined when its text cannot be one."""
    exports = exported(name, text)
    body = IMPORT.sub(lambda found: unpacked(name, found, known), text)
    body = EXPORT.sub("", LISTED.sub("", body)).replace(MODULE_ADDRESS, SCRIPT_ADDRESS)
    body = in_scope(reckon_names(name, text), body)
    left = LEFT.search(body)
    if left:
        raise NotJoined(f"{name} cannot be joined because of: {left[0]}")
    gives = f"return [{', '.join(exports.values())}];\n" if exports else ""
    takes = f"const [{', '.join(known[name].values())}] = " if exports else ""
    return f"// {name}\n{takes}(() => {{\n{body}\n{gives}}})();\n"


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


def unpacked(name: str, found: re.Match[str], known: Shared) -> str:
    """An import as the declarations that it still needs: none where all names are the same."""
    path = path_from(name, found["path"])
    if path == RECKON:
        return ""
    if found["space"]:
        members = ", ".join(f"{each}: {called}" for each, called in known[path].items())
        return f"const {found['space']} = {{ {members} }};"
    names = {own: called for (_, own), called in imported(name, found[0]).items()}
    missing = [own for own in names if own not in known[path]]
    if missing:
        raise NotJoined(f"{name} imports {', '.join(missing)}, which {path} does not export.")
    pairs = [(called, known[path][own]) for own, called in names.items()]
    return "".join(f"const {called} = {outer};" for called, outer in pairs if called != outer)
