"""The app's modules joined into one script say the same as apart."""

import pytest
from py_mini_racer import MiniRacer

from webapp.phone.compiler.bundle import NotJoined, joined, taken_from
from webapp.phone.compiler.finished import compiled
from webapp.phone.shell_files import static_folder

MODULES = {
    "js/app.js": "import {twice as double, ONE} from './parts/sums.js';\n"
    "import * as sums from './parts/sums.js';\n"
    "globalThis.said = `${double(ONE)} ${sums.twice(21)}`;\n",
    "js/parts/sums.js": "import {plus} from '../plus.js';\nconst hidden = 2;\n"
    "export const ONE = 1;\nexport function twice(x) {\n  return plus(x, x * (hidden - 1));\n}\n",
    "js/plus.js": "export {plus};\nfunction plus(a, b) {\n  return a + b;\n}\n",
    "js/other.js": "export const never = 'asked for';\n",
}


def run(script):
    engine = MiniRacer()
    engine.eval("globalThis.document = {currentScript: {src: 'https://shop/shell/abc/js/app.js'}};")
    engine.eval(script)
    return engine.eval("said")


def test_modules_find_each_other_and_keep_their_own_names():
    assert run(joined(MODULES, "js/app.js")) == "2 42"


def test_an_import_may_take_several_lines():
    wrapped = "import {\n  twice as double,\n  ONE,\n} from\n  './parts/sums.js';\n"
    text = wrapped + "globalThis.said = double(ONE);\n"
    assert run(joined({**MODULES, "js/app.js": text}, "js/app.js")) == 2


def test_a_list_of_exports_may_take_several_lines():
    plus = "export {\n  plus,\n  minus as less,\n};\n"
    plus += "const plus = (a, b) => a + b;\nconst minus = (a, b) => a - b;\n"
    app = "import { less } from './plus.js';\nglobalThis.said = less(3, 1);\n"
    assert run(joined({"js/app.js": app, "js/plus.js": plus}, "js/app.js")) == 2


def test_what_is_not_needed_stays_out():
    assert "asked for" not in joined(MODULES, "js/app.js")


def test_what_is_taken_from_a_module_is_known_by_its_own_name():
    assert taken_from("js/parts/sums.js", MODULES) == {"twice", "ONE"}
    assert taken_from("js/plus.js", MODULES) == {"plus"}
    assert taken_from("js/other.js", MODULES) == set()


def test_exports_are_known_under_the_names_they_are_given():
    modules = {
        "js/app.js": "import {sums, one} from './reckon.js';\nglobalThis.said = sums.twice(one);\n",
        "js/reckon.js": "const $sums = {twice: (x) => 2 * x};\nconst one = 1;\n"
        "export { $sums as sums, one };\n",
    }
    assert run(joined(modules, "js/app.js")) == 2


def test_a_module_asks_the_script_where_it_was_fetched():
    modules = {"js/app.js": "globalThis.said = import.meta.url;\n"}
    assert run(joined(modules, "js/app.js")) == "https://shop/shell/abc/js/app.js"


def test_a_script_is_as_strict_as_modules_and_leaves_no_names_behind():
    modules = {
        "js/app.js": "const own = (function () { return this; })();\nglobalThis.said = own;\n"
    }
    assert run(joined(modules, "js/app.js") + "said ??= typeof own;") == "undefined"


@pytest.mark.parametrize(
    "line", ["export default 1;", "import './x.js';", "export * from './plus.js';"]
)
def test_what_cannot_be_joined_is_named(line):
    with pytest.raises(NotJoined, match="cannot be joined because of"):
        joined({**MODULES, "js/plus.js": line + "\n"}, "js/app.js")


def test_a_module_that_is_missing_is_named():
    with pytest.raises(NotJoined, match=r"js/plus\.js is imported and not there"):
        joined({k: v for k, v in MODULES.items() if "plus" not in k}, "js/app.js")


def test_the_whole_app_can_be_joined():
    static = static_folder()
    texts = {
        path.relative_to(static).as_posix(): path.read_text("utf-8")
        for path in static.rglob("*.js")
    }
    asked = frozenset(taken_from("js/reckon.js", texts))
    script = joined({**texts, "js/reckon.js": compiled(asked)}, "js/app.js")
    assert "const $js_screens_home = (() => {" in script
    assert "const $js_reckon = (() => {" in script
    MiniRacer().eval(f"(() => {{ {script} }});")
