"""The app's modules joined into one script say the same as apart."""

import pytest
from py_mini_racer import MiniRacer

from webapp.phone.assets import static_folder
from webapp.phone.join import NotJoined, joined

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
    head, _, body = script.partition("\n")
    engine.eval(body)
    return head, engine.eval("said")


def test_modules_find_each_other_and_keep_their_own_names():
    head, said = run(joined(MODULES, "js/app.js", "js/reckon.js"))
    assert head == "import * as $js_reckon from './reckon.js';"
    assert said == "2 42"


def test_what_is_not_needed_stays_out():
    assert "asked for" not in joined(MODULES, "js/app.js", "js/reckon.js")


def test_the_arithmetic_stays_apart():
    modules = {"js/app.js": "import {assess} from './reckon.js';\nassess.assess({});\n"}
    assert "const {assess} = $js_reckon;" in joined(modules, "js/app.js", "js/reckon.js")


@pytest.mark.parametrize(
    "line", ["export default 1;", "import './x.js';", "export * from './plus.js';"]
)
def test_what_cannot_be_joined_is_named(line):
    with pytest.raises(NotJoined, match="cannot be joined because of"):
        joined({**MODULES, "js/plus.js": line + "\n"}, "js/app.js", "js/reckon.js")


def test_a_module_that_is_missing_is_named():
    with pytest.raises(NotJoined, match=r"js/plus\.js is imported and not there"):
        joined({k: v for k, v in MODULES.items() if "plus" not in k}, "js/app.js", "js/reckon.js")


def test_the_whole_app_can_be_joined():
    static = static_folder()
    texts = {
        path.relative_to(static).as_posix(): path.read_text("utf-8")
        for path in static.rglob("*.js")
    }
    script = joined(texts, "js/app.js", "js/reckon.js")
    assert "const $js_screens_home = (() => {" in script
    assert script.rstrip().endswith("})();")
