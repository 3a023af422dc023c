"""The app's modules joined into one script say the same as apart."""

import pytest
from py_mini_racer import MiniRacer

from webapp.phone.compiler.bundle import NotJoined, asked_of_reckon, joined
from webapp.phone.compiler.finished import app_of
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


ASKING = (
    "import { h } from './dom.js';\n"
    "import {\n  fold,\n  entry_words as entryWords,\n} from '../reckon.js';\n"
    "const tags = { fold: fold.standing(job.fold.entries), all: [...fold.ROUNDS] };\n"
    "h(`${entryWords\n  .SAID} fold`);\n"
)


def test_what_a_module_asks_of_the_arithmetic_is_known():
    asked = {("fold", "standing"), ("fold", "ROUNDS"), ("entry_words", "SAID")}

    assert asked_of_reckon("js/parts/x.js", ASKING) == asked
    assert asked_of_reckon("js/x.js", ASKING) == set()


def test_a_module_finds_the_arithmetic_in_the_common_scope():
    modules = {
        "js/app.js": "import { fold, sheet as asSheet } from './reckon.js';\n"
        "globalThis.said = asSheet.half(fold.total({ fold: 3 }.fold));\n"
    }
    reckon = "const sheet$half = (x) => x / 2;\nconst fold$total = (x) => x + 1;\n"

    assert run(joined(modules, "js/app.js", reckon)) == 2


def test_a_module_of_the_arithmetic_is_never_taken_as_a_whole():
    modules = {"js/app.js": "import { fold } from './reckon.js';\nconst { total } = fold;\n"}

    with pytest.raises(NotJoined, match="fold is taken as a whole"):
        joined(modules, "js/app.js")


def test_exports_are_known_under_the_names_they_are_given():
    modules = {
        "js/app.js": "import {sums, one} from './sums.js';\nglobalThis.said = sums.twice(one);\n",
        "js/sums.js": "const $sums = {twice: (x) => 2 * x};\nconst one = 1;\n"
        "export { $sums as sums, one };\n",
    }
    assert run(joined(modules, "js/app.js")) == 2


def test_what_two_modules_call_alike_stays_apart():
    modules = {
        "js/app.js": "import { draw } from './one.js';\nimport { draw as again } from './two.js';\n"
        "import { JSON, own } from './three.js';\n"
        "globalThis.said = [draw(), again(), JSON, own].join();\n",
        "js/one.js": "export const draw = () => 'one';\n",
        "js/two.js": "import { own } from './three.js';\nexport const draw = () => `two ${own}`;\n",
        "js/three.js": "const deep = 'three';\nexport { deep as JSON, deep as own };\n",
        "js/four.js": "export const said = JSON.stringify({});\n",
    }
    modules["js/app.js"] += "import { said } from './four.js';\nglobalThis.said += said;\n"

    assert run(joined(modules, "js/app.js")) == "one,two three,three,three{}"


def test_what_a_module_does_not_export_is_named():
    modules = {**MODULES, "js/app.js": "import { nothing } from './plus.js';\n"}

    with pytest.raises(NotJoined, match=r"imports nothing, which js/plus\.js does not export"):
        joined(modules, "js/app.js")


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
    script = app_of(texts)
    assert "// js/screens/home.js\nconst [$js_screens_home$show] = (() => {" in script
    assert "function assess$assess_numbers(sheet) {" in script
    MiniRacer().eval(f"(() => {{ {script} }});")
